import { argumentWrong, MeterpairError } from '../../error.js';
import { leastSquares } from '../../statistics/leastSquares.js';
import { CONFIDENCE, requireOptions } from '../../statistics/options.js';
import { requireNumbers } from '../../statistics/shapes.js';
import { extremes } from '../../statistics/summary.js';
import {
  type Line,
  type LinePoints,
  type LineUncertainty,
  lineRecord,
  requirePoints,
  requireUncertainties,
} from './line.js';
import {
  type GoodnessOfFit,
  goodnessOfFit,
  scaled,
  type UncertaintyScale,
} from './weightedLine.js';

export interface YorkPoints extends LinePoints {
  /** Standard uncertainty of each x, in its unit; 0 for an exact x. */
  readonly x_standard_uncertainty: readonly number[];
  readonly y_standard_uncertainty: readonly number[];
  /** Correlation of the errors in x and y of each point, from −1 to 1 (default 0). */
  readonly correlation?: readonly number[];
}

export interface YorkLine extends Line, GoodnessOfFit {
  /** The points moved onto the line: the least-squares estimate of what was measured. */
  readonly adjusted: LinePoints;
  readonly iterations: number;
}

const MOST_ITERATIONS = 2000;

/**
 * Line through points with errors in x and in y, each point with its own uncertainties, which may
 * be correlated within the point.
 *
 * @param points x, y and their standard uncertainties; a point may be exact in one of them
 * @param options `scale`: `known` (default) believes the uncertainties, `estimated` believes only
 *   their ratios and scales with the scatter; `confidence` as a fraction (default 0.95)
 * @returns the line with standard uncertainties taken at the adjusted points, chi-square and its p;
 *   `residual_sd` is √(chi-square / dof), without unit: far above 1, line or uncertainties are wrong
 * @throws argument-wrong, too-few-values, no-convergence
 * Source: D. York, N. M. Evensen, M. L. Martínez, J. De Basabe Delgado (2004), Am. J. Phys. 72,
 * 367–375, equations (13); goodness of fit as in ISO/TS 28037:2010, clauses 7 and 8.
 */
export function yorkLine(
  points: YorkPoints,
  options: { readonly scale?: UncertaintyScale; readonly confidence?: number } = {},
): YorkLine {
  const { scale = 'known', confidence = 0.95 } = requireOptions(options, {
    scale: { maybe: ['known', 'estimated'] },
    confidence: CONFIDENCE,
  });
  requireYorkPoints(points);
  const { slope, turn, iterations } = settledSlope(points);
  const { w, total, xMean, yMean, beta } = turn;
  const { x, y } = points;
  const intercept = yMean - slope * xMean;
  const residuals = y.map((value, i) => value - intercept - slope * x[i]);
  const chiSquare = residuals.reduce((sum, e, i) => sum + w[i] * e ** 2, 0);
  const adjusted = beta.map((value) => xMean + value);
  const count = x.length - 2;
  return {
    ...lineRecord({
      method: 'york',
      intercept,
      slope,
      ...scaled((factor) => atAdjusted(adjusted, w, total, factor), chiSquare, count, scale),
      confidence,
      residuals,
    }),
    ...goodnessOfFit(chiSquare, count),
    adjusted: { x: adjusted, y: adjusted.map((value) => intercept + slope * value) },
    iterations,
  };
}

function requireYorkPoints(points: YorkPoints): void {
  requirePoints(points, 2);
  const count = points.x.length;
  for (const axis of ['x', 'y'] as const) {
    const what = `The standard uncertainty of ${axis}`;
    requireUncertainties(points[`${axis}_standard_uncertainty`], points, what, 'not-negative');
  }
  if (points.correlation === undefined) return;
  requireNumbers(points.correlation, 'The correlation of the errors');
  if (points.correlation.length !== count || points.correlation.some((r) => !(Math.abs(r) <= 1))) {
    throw argumentWrong('Correlations must be given for every point, from −1 to 1.');
  }
}

/** One turn of York's equations (13): what a slope makes of weights, centre and adjusted points. */
function yorkTurn(points: YorkPoints, slope: number) {
  const { x, y, x_standard_uncertainty: ux, y_standard_uncertainty: uy } = points;
  const shared = x.map((_, i) => (points.correlation?.[i] ?? 0) * ux[i] * uy[i]);
  const w = x.map((_, i) => 1 / (uy[i] ** 2 + slope ** 2 * ux[i] ** 2 - 2 * slope * shared[i]));
  const total = w.reduce((sum, value) => sum + value, 0);
  if (!Number.isFinite(total)) {
    throw argumentWrong('A point that is exact in x and y cannot be weighed against others.');
  }
  const centre = (values: readonly number[]) =>
    values.reduce((sum, value, i) => sum + w[i] * value, 0) / total;
  const [xMean, yMean] = [centre(x), centre(y)];
  const beta = x.map((_, i) => {
    const [u, v] = [x[i] - xMean, y[i] - yMean];
    return w[i] * (u * uy[i] ** 2 + slope * v * ux[i] ** 2 - (slope * u + v) * shared[i]);
  });
  const along = (values: readonly number[], mean: number) =>
    values.reduce((sum, value, i) => sum + w[i] * beta[i] * (value - mean), 0);
  return { next: along(y, yMean) / along(x, xMean), w, total, xMean, yMean, beta };
}

/** Done when the slope stands still, or its changes have stopped shrinking at the rounding level. */
function settledSlope(points: YorkPoints) {
  const range = (values: readonly number[]) => extremes(values)[1] - extremes(values)[0];
  const size = range(points.y) / range(points.x);
  let slope = startingSlope(points);
  let turn = yorkTurn(points, slope);
  let previous = Number.POSITIVE_INFINITY;
  let iterations = 0;
  while (iterations < MOST_ITERATIONS && Number.isFinite(turn.next)) {
    iterations++;
    const moved = Math.abs(turn.next - slope);
    const atRounding = moved <= 1e-12 * Math.max(size, Math.abs(turn.next));
    slope = turn.next;
    turn = yorkTurn(points, slope);
    if (moved === 0 || (atRounding && moved >= previous)) return { slope, turn, iterations };
    previous = moved;
  }
  throw new MeterpairError({
    code: 'no-convergence',
    message: 'The line with errors in both readings does not settle.',
    found: `${iterations} iterations`,
    expected: 'points whose scatter about a line is small beside their range',
  });
}

/** Uncertainty at the adjusted points; `null` where they all have one x. */
function atAdjusted(
  x: readonly number[],
  w: readonly number[],
  total: number,
  factor: number,
): LineUncertainty | null {
  const mean = x.reduce((sum, value, i) => sum + w[i] * value, 0) / total;
  const spread = x.reduce((sum, value, i) => sum + w[i] * (value - mean) ** 2, 0);
  if (!(spread > 0)) return null;
  const slope = factor / spread;
  return {
    intercept: Math.sqrt(factor / total + mean ** 2 * slope),
    slope: Math.sqrt(slope),
    covariance: -mean * slope,
  };
}

function startingSlope(points: LinePoints): number {
  const xScale = extremes(points.x.map(Math.abs))[1];
  return (
    leastSquares(
      points.x.map((value) => [1, value / xScale]),
      points.y,
    ).coefficients[1] / xScale
  );
}
