/**
 * Least squares where the observations share a random walk beside their own noise: their covariance
 * is σ²(I + λ·min(tᵢ, tⱼ)), λ being the variance of the walk per mean interval of time over that of
 * one observation.
 *
 * Neighbouring observations then have more in common than distant ones, and a contrast between
 * neighbours is better known than independent noise would have it.
 */
import { CholeskyDecomposition, determinant, Matrix } from 'ml-matrix';
import { leastSquares } from './leastSquares.js';
import { type Group, type TwoGroupFit, twoGroupFit } from './twoGroupFit.js';

/** Ratios λ that are tried; between them the interval hardly changes. */
const RATIOS = [0.05, 0.1, 0.2, 0.4, 0.8, 1.6, 3.2, 6.4];
/** How much lower −2 ln(restricted likelihood) must come out before a walk is taken for real. */
const REQUIRED_GAIN = 4;
/** Keeps the likelihood finite where observations repeat exactly. */
const NEGLIGIBLE_VARIANCE = 1e-14;

type Rows = readonly (readonly number[])[];

/**
 * How much of a random walk do the observations show beside the given design?
 *
 * Restricted maximum likelihood over a grid (Patterson and Thompson 1971, Biometrika 58, 545):
 * −2 ln L = ln|V| + ln|X'V⁻¹X| + (n − p) ln(residual sum of squares) + constant.
 *
 * @param times of the observations, any unit
 * @returns λ, 0 unless its criterion is lower by more than 4 than without a walk
 */
export function wanderRatio(design: Rows, y: readonly number[], times: readonly number[]): number {
  const without = criterion(design, y, times, 0);
  let best = without - REQUIRED_GAIN;
  let ratio = 0;
  for (const tried of RATIOS) {
    const found = criterion(design, y, times, tried);
    if (found < best) {
      best = found;
      ratio = tried;
    }
  }
  return ratio;
}

/**
 * `twoGroupFit` on the decorrelated observations.
 *
 * @param ratio λ of the walk
 * @returns coefficients, fitted values, weights and contrasts are those of the observations as given;
 *   residuals (and variances) those of the decorrelated ones: what is new in each, given the earlier
 */
export function wanderFit(
  design: Rows,
  y: readonly number[],
  groups: readonly Group[],
  times: readonly number[],
  ratio: number,
): TwoGroupFit {
  const lower = walkFactor(times, ratio);
  const fit = twoGroupFit(decorrelatedRows(lower, design), forward(lower, y), groups);
  return {
    ...fit,
    fitted: design.map((row) => row.reduce((sum, x, j) => sum + x * fit.coefficients[j], 0)),
    weights: fit.weights.map((row) => backward(lower, row)),
    uncertaintyOf: (contrast) => fit.uncertaintyOf(throughTranspose(lower, contrast)),
  };
}

function criterion(design: Rows, y: readonly number[], times: readonly number[], ratio: number) {
  const lower = walkFactor(times, ratio);
  const rows = decorrelatedRows(lower, design);
  const fit = leastSquares(rows, forward(lower, y));
  // The covariance of the coefficients is (X'V⁻¹X)⁻¹ for unit variance.
  const covariance = new Matrix(fit.unscaledCovariance.map((row) => [...row]));
  return (
    lower.reduce((sum, row, i) => sum + 2 * Math.log(row[i]), 0) -
    Math.log(determinant(covariance)) +
    fit.dof * Math.log(fit.residualSumOfSquares + y.length * NEGLIGIBLE_VARIANCE)
  );
}

/** Lower triangular L with LL' = I + λ·min(tᵢ, tⱼ), time from the first one in mean intervals. */
function walkFactor(times: readonly number[], ratio: number): number[][] {
  const first = Math.min(...times);
  const interval = (Math.max(...times) - first) / (times.length - 1) || 1;
  const t = times.map((time) => (time - first) / interval);
  const v = t.map((a, i) => t.map((b, j) => (i === j ? 1 : 0) + ratio * Math.min(a, b)));
  return new CholeskyDecomposition(new Matrix(v)).lowerTriangularMatrix.to2DArray();
}

/** L⁻¹ applied to every column. */
function decorrelatedRows(lower: Rows, design: Rows): number[][] {
  const columns = design[0].map((_, j) =>
    forward(
      lower,
      design.map((row) => row[j]),
    ),
  );
  return design.map((_, i) => columns.map((column) => column[i]));
}

/** Solves L x = y. */
function forward(lower: Rows, y: readonly number[]): number[] {
  const x: number[] = [];
  y.forEach((value, i) => {
    const known = x.reduce((sum, one, k) => sum + lower[i][k] * one, 0);
    x.push((value - known) / lower[i][i]);
  });
  return x;
}

/** Solves L'x = w. */
function backward(lower: Rows, w: readonly number[]): number[] {
  const x = [...w];
  for (let i = w.length - 1; i >= 0; i--) {
    for (let k = i + 1; k < w.length; k++) x[i] -= lower[k][i] * x[k];
    x[i] /= lower[i][i];
  }
  return x;
}

/** L'c. */
function throughTranspose(lower: Rows, c: readonly number[]): number[] {
  return c.map((_, j) => c.reduce((sum, value, i) => sum + lower[i][j] * value, 0));
}
