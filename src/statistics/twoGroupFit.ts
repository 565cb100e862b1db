/**
 * Least squares for two groups of observations with unequal, unknown variances.
 *
 * The coefficients are those of ordinary least squares. The two variances come from the sums of
 * squared residuals of each group, set equal to their expectations (quadratic unbiased estimators,
 * as in MINQUE with equal starting variances; Rao 1971), and the degrees of freedom of any contrast
 * from Satterthwaite's formula (Satterthwaite 1946): ν = 2 V² / Var(V). Where the unbiased estimate
 * of a contrast's variance could be negative, a cautious one takes its place (`nonNegative`).
 */

import { argumentWrong, failure } from '../error.js';
import type { Part } from './combineIndependent.js';
import {
  columnsOf,
  inner,
  invertUpper,
  isDependent,
  orthonormal,
  ownParts,
} from './orthonormal.js';
import { trace, traceOfProduct, varianceOfForm } from './residualForms.js';

export type Group = 0 | 1;

export interface TwoGroupFit {
  readonly coefficients: readonly number[];
  readonly fitted: readonly number[];
  readonly residuals: readonly number[];
  readonly residualSumOfSquares: number;
  /** Observations and coefficients. */
  readonly n: number;
  readonly p: number;
  /** Estimated variance of one observation in each group; negative estimates are set to zero. */
  readonly variances: readonly [number, number];
  /** Variance left in each residual for unit variance of every observation: 1 − leverage. */
  readonly residualFactors: readonly number[];
  /** Weights on the observations whose sum Σ wᵢ yᵢ is each coefficient. */
  readonly weights: readonly (readonly number[])[];
  /** Standard uncertainty and degrees of freedom of a contrast Σ wᵢ yᵢ. */
  readonly uncertaintyOf: (contrast: readonly number[]) => Part;
}

/** A column of the design with less of its own, beside the largest, depends on the others. */
export const DEPENDENT = 1e-10;

/**
 * Fits y = Xβ + ε with Var ε = σ²_group.
 *
 * @throws argument-wrong for shapes that do not match; too-few-values when the design cannot be
 *   solved or leaves no degree of freedom
 */
export function twoGroupFit(
  design: readonly (readonly number[])[],
  y: readonly number[],
  groups: readonly Group[],
): TwoGroupFit {
  const { q, r } = basisOf(design, y, groups);
  const n = y.length;
  const p = q.length;
  const weights = invertUpper(r).map((row) => combined(row, q));
  const coefficients = weights.map((w) => inner(w, y));
  const fitted = design.map((row) => inner(row, coefficients));
  const residuals = y.map((value, i) => value - fitted[i]);
  const found = groupVariances(q, groups, residuals);
  return {
    coefficients,
    fitted,
    residuals,
    residualSumOfSquares: found.squares[0] + found.squares[1],
    n,
    p,
    variances: found.variances,
    residualFactors: ownParts(q, n),
    weights,
    uncertaintyOf: (contrast) => contrastUncertainty(found, bySquares(contrast, groups)),
  };
}

/** The design as orthonormal columns. */
function basisOf(
  design: readonly (readonly number[])[],
  y: readonly number[],
  groups: readonly Group[],
) {
  const n = y.length;
  const p = design[0]?.length ?? 0;
  if (design.length !== n || groups.length !== n || p === 0) {
    throw argumentWrong('Design, observations and groups must have the same number of rows.');
  }
  if (n <= p) {
    throw failure(
      'too-few-values',
      `A fit of ${p} coefficients with an uncertainty needs more than ${p} observations.`,
      n,
    );
  }
  const basis = orthonormal(columnsOf(design));
  if (isDependent(basis, DEPENDENT)) {
    throw failure('too-few-values', 'The runs cannot tell the meters and the drift apart.');
  }
  return basis;
}

/** Σ xⱼ·columnⱼ. */
function combined(x: readonly number[], columns: readonly (readonly number[])[]): number[] {
  const sums = new Array<number>(columns[0].length).fill(0);
  columns.forEach((column, j) => {
    for (let i = 0; i < sums.length; i++) sums[i] += x[j] * column[i];
  });
  return sums;
}

function bySquares(values: readonly number[], groups: readonly Group[]): [number, number] {
  const sums: [number, number] = [0, 0];
  values.forEach((value, i) => {
    sums[groups[i]] += value * value;
  });
  return sums;
}

/** Both variances from the squared residuals set equal to their expectations. */
function groupVariances(
  q: readonly (readonly number[])[],
  groups: readonly Group[],
  residuals: readonly number[],
) {
  const s = [gram(q, groups, 0), gram(q, groups, 1)];
  const size = [0, 1].map((group) => groups.filter((g) => g === group).length);
  const expectation = [0, 1].map((g) =>
    [0, 1].map((h) => (g === h ? size[g] - 2 * trace(s[g]) : 0) + traceOfProduct(s[g], s[h])),
  );
  const squares = bySquares(residuals, groups);
  const freedom = residuals.length - q.length;
  const pooled = (squares[0] + squares[1]) / freedom;
  const solve = solver(expectation);
  const [first, second] = solve === null ? [pooled, pooled] : solve(squares);
  const variances: [number, number] = [Math.max(first, 0), Math.max(second, 0)];
  return { s, size, expectation, squares, freedom, pooled, solve, variances };
}

/** @param w sum of squared weights of the contrast in each group */
function contrastUncertainty(
  found: ReturnType<typeof groupVariances>,
  w: readonly [number, number],
): Part {
  const { s, size, expectation, squares, freedom, pooled, solve, variances } = found;
  // Where a group leaves no residual of its own, its variance cannot be told from the other's.
  if (solve === null) {
    return { standardUncertainty: Math.sqrt(pooled * (w[0] + w[1])), dof: freedom };
  }
  const alpha = solve.transposed(w);
  const held = nonNegative(alpha, w, expectation);
  const variance = held[0] * squares[0] + held[1] * squares[1];
  // The estimates of the variances may be zero by chance where one has to be held back.
  const assumed = held === alpha ? variances : ([pooled, pooled] as const);
  const mean = held === alpha ? variance : expectedValue(held, expectation, pooled);
  const spread = varianceOfForm(held, assumed, s, size);
  const dof = spread > 0 ? (2 * mean * mean) / spread : freedom;
  return { standardUncertainty: Math.sqrt(variance), dof: Math.min(Math.max(dof, 1), freedom) };
}

/**
 * The estimate of a contrast's variance is α₀S₀ + α₁S₁ with the groups' sums of squared residuals.
 * With few runs in one group the unbiased α may have a negative part, and the estimate may fall to
 * zero by chance. Then that part is left out and the other raised until the estimate is, for any two
 * variances, not too small on average.
 */
function nonNegative(
  alpha: readonly [number, number],
  wanted: readonly number[],
  expectation: readonly (readonly number[])[],
): readonly [number, number] {
  if (alpha[0] >= 0 && alpha[1] >= 0) return alpha;
  const kept = alpha[0] < 0 ? 1 : 0;
  const raised = Math.max(...[0, 1].map((h) => wanted[h] / expectation[kept][h]));
  return kept === 0 ? [raised, 0] : [0, raised];
}

/** Expectation of α₀S₀ + α₁S₁ where both groups have the same variance. */
function expectedValue(
  alpha: readonly number[],
  expectation: readonly (readonly number[])[],
  variance: number,
): number {
  return (
    variance *
    [0, 1].reduce((sum, g) => sum + alpha[g] * (expectation[g][0] + expectation[g][1]), 0)
  );
}

/** Q'DQ, D picking the rows of one group. */
function gram(
  q: readonly (readonly number[])[],
  groups: readonly Group[],
  group: Group,
): number[][] {
  return q.map((left) =>
    q.map((right) => {
      let sum = 0;
      for (let i = 0; i < groups.length; i++) if (groups[i] === group) sum += left[i] * right[i];
      return sum;
    }),
  );
}

/** Solves A x = b for a 2×2 matrix, and A' x = b; `null` when A is singular. */
function solver(a: readonly (readonly number[])[]) {
  const determinant = a[0][0] * a[1][1] - a[0][1] * a[1][0];
  if (!(Math.abs(determinant) > 1e-9)) return null;
  const solve = (b: readonly number[]): [number, number] => [
    (a[1][1] * b[0] - a[0][1] * b[1]) / determinant,
    (a[0][0] * b[1] - a[1][0] * b[0]) / determinant,
  ];
  const transposed = (b: readonly number[]): [number, number] => [
    (a[1][1] * b[0] - a[1][0] * b[1]) / determinant,
    (a[0][0] * b[1] - a[0][1] * b[0]) / determinant,
  ];
  return Object.assign(solve, { transposed });
}
