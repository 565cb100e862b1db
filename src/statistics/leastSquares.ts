/** Ordinary and weighted linear least squares by QR decomposition. */
import { argumentWrong, failure } from '../error.js';
import { columnsOf, inner, invertUpper, isDependent, orthonormal, takeOut } from './orthonormal.js';

export interface LinearFit {
  readonly coefficients: readonly number[];
  /** Covariance of the coefficients for unit variance of the (weighted) observations. */
  readonly unscaledCovariance: readonly (readonly number[])[];
  readonly residuals: readonly number[];
  readonly residualSumOfSquares: number;
  /** Observations minus coefficients. */
  readonly dof: number;
}

/**
 * Solves min Σ wᵢ (yᵢ − xᵢβ)².
 *
 * @param design rows of the design matrix, one per observation
 * @param y observations
 * @param weights 1/variance up to a common factor; equal when left out
 * @throws argument-wrong for shapes that do not match, too-few-values for more coefficients than
 *   observations or a design whose columns depend on each other
 */
export function leastSquares(
  design: readonly (readonly number[])[],
  y: readonly number[],
  weights?: readonly number[],
): LinearFit {
  const n = y.length;
  const p = design[0]?.length ?? 0;
  if (design.length !== n || p === 0 || (weights !== undefined && weights.length !== n)) {
    throw argumentWrong('Design, observations and weights must have the same number of rows.');
  }
  if (n < p) {
    throw failure(
      'too-few-values',
      `A fit of ${p} coefficients needs at least ${p} observations.`,
      n,
    );
  }
  const root = y.map((_, i) => Math.sqrt(weights?.[i] ?? 1));
  const basis = orthonormal(columnsOf(design).map((column) => column.map((x, i) => x * root[i])));
  if (isDependent(basis, 1e-12)) {
    throw failure(
      'too-few-values',
      'The observations cannot tell the coefficients of this fit apart.',
    );
  }
  const rest = y.map((value, i) => value * root[i]);
  const parts = basis.q.map((unit) => takeOut(rest, unit));
  const inverse = invertUpper(basis.r);
  const beta = inverse.map((row) => inner(row, parts));
  const covariance = Array.from({ length: p }, (_, a) =>
    Array.from({ length: p }, (_, b) => {
      let sum = 0;
      for (let k = 0; k < p; k++) sum += inverse[a][k] * inverse[b][k];
      return sum;
    }),
  );
  const residuals = y.map((value, i) => value - inner(design[i], beta));
  return {
    coefficients: beta,
    unscaledCovariance: covariance,
    residuals,
    residualSumOfSquares: residuals.reduce((sum, e, i) => sum + (e * root[i]) ** 2, 0),
    dof: n - p,
  };
}
