import { inverse, Matrix } from 'ml-matrix';
import { argumentWrong, MeterpairError } from '../error.js';
import { requireOptions } from '../statistics/options.js';

export interface ComparisonDesignOptions {
  /** One row a difference, one column a meter: +1 for the one minus −1 for the other. */
  readonly differences: readonly (readonly number[])[];
  /** Which meters are trusted, 1 or 0 each: the sum of their values is given. */
  readonly restraint: readonly number[];
  /** Time of each difference, in any unit about its middle, to take a linear drift out. */
  readonly times?: readonly number[];
}

export interface ComparisonDesign {
  /** Weight of each difference (rows) in the value of each meter (columns), drift last if any. */
  readonly weights: readonly (readonly number[])[];
  /** Weight of the trusted sum in the value of each meter, drift last if any. */
  readonly trustedWeights: readonly number[];
  readonly dof: number;
  /** Standard deviation of a sum Σ cⱼ·(value of meter j), in standard deviations of a difference. */
  readonly factorOf: (combination: readonly number[]) => number;
}

/**
 * How do several meters compare that were taken in pairs, with one or more of them trusted? Least
 * squares of the differences under the restraint, a linear drift taken out if times are given. For
 * a third meter beside the two, or several candidates at one reference.
 *
 * @throws argument-wrong for shapes that do not match, too-few-values for differences that leave a
 *   meter undetermined
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, 2.3.3.3 and 2.3.4
 */
export function comparisonDesign(options: ComparisonDesignOptions): ComparisonDesign {
  requireOptions(options, { differences: true, restraint: true, times: true });
  const { differences, restraint, times } = options;
  const meters = restraint.length;
  const n = differences.length;
  if (
    n === 0 ||
    differences.some((row) => row.length !== meters) ||
    (times !== undefined && times.length !== n) ||
    !restraint.some((value) => value !== 0)
  ) {
    throw argumentWrong(
      'A design needs a row per difference, a column per meter and a trusted meter.',
    );
  }
  const x = new Matrix(
    differences.map((row, i) => (times === undefined ? [...row] : [...row, times[i]])),
  );
  const unknowns = x.columns;
  const trusted = [...restraint, ...(times === undefined ? [] : [0])];
  // Normal equations bordered by the restraint (Lagrange multiplier).
  const bordered = Matrix.zeros(unknowns + 1, unknowns + 1);
  bordered.setSubMatrix(x.transpose().mmul(x), 0, 0);
  trusted.forEach((value, j) => {
    bordered.set(unknowns, j, value);
    bordered.set(j, unknowns, value);
  });
  const solved = solve(bordered);
  const q = solved.subMatrix(0, unknowns - 1, 0, unknowns - 1);
  const weights = x.mmul(q).to2DArray();
  return {
    weights,
    trustedWeights: solved.getColumn(unknowns).slice(0, unknowns),
    dof: n - unknowns + 1,
    factorOf: (combination) => {
      const c = trusted.map((_, j) => combination[j] ?? 0);
      const squared = c.reduce(
        (sum, a, i) => sum + c.reduce((inner, b, j) => inner + a * b * q.get(i, j), 0),
        0,
      );
      return Math.sqrt(Math.max(0, squared));
    },
  };
}

function solve(bordered: Matrix): Matrix {
  const failed = new MeterpairError({
    code: 'too-few-values',
    message: 'These differences leave the value of a meter, or the drift, undetermined.',
    expected: 'differences that link every meter to a trusted one',
  });
  let result: Matrix;
  try {
    result = inverse(bordered);
  } catch {
    throw failed;
  }
  const identity = bordered.mmul(result).sub(Matrix.eye(bordered.rows));
  if (!(identity.norm() < 1e-8)) throw failed;
  return result;
}
