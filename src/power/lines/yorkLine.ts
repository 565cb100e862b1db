import { argumentWrong, MeterpairError } from '../../error.js';
import { chiSquareCdf } from '../../statistics/distributions.js';
import { leastSquares } from '../../statistics/leastSquares.js';
import { requireConfidence, requireOptions } from '../../statistics/options.js';
import { requireNumbers } from '../../statistics/shapes.js';
import { extremes } from '../../statistics/summary.js';
import { KNOWN_EXACTLY } from '../../vocabulary.js';
import {
  coefficient,
  type Line,
  type LinePoints,
  lineCoverageFactor,
  requirePoints,
  requireUncertainties,
  TWO_POINTS,
} from './line.js';
import type { GoodnessOfFit, UncertaintyScale } from './weightedLine.js';

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
  requireOptions(options, { scale: true, confidence: true });
  const confidence = options.confidence ?? 0.95;
  const scale = options.scale ?? 'known';
  requireConfidence(confidence);
  requirePoints(points, 2);
  const { x, y } = points;
  const n = x.length;
  const ux = points.x_standard_uncertainty;
  const uy = points.y_standard_uncertainty;
  requireUncertainties(ux, {
    count: n,
    what: 'The standard uncertainty of x',
    zeroAllowed: true,
  });
  requireUncertainties(uy, {
    count: n,
    what: 'The standard uncertainty of y',
    zeroAllowed: true,
  });
  const correlation = points.correlation ?? x.map(() => 0);
  requireNumbers(correlation, 'The correlation of the errors');
  if (correlation.length !== n || correlation.some((r) => !(r >= -1 && r <= 1))) {
    throw argumentWrong('Correlations must be given for every point, from −1 to 1.');
  }

  const step = (b: number) => {
    const w = x.map(
      (_, i) => 1 / (uy[i] ** 2 + b ** 2 * ux[i] ** 2 - 2 * b * correlation[i] * ux[i] * uy[i]),
    );
    const total = w.reduce((sum, value) => sum + value, 0);
    if (!Number.isFinite(total)) {
      throw argumentWrong('A point that is exact in x and y cannot be weighed against others.');
    }
    const xMean = x.reduce((sum, value, i) => sum + w[i] * value, 0) / total;
    const yMean = y.reduce((sum, value, i) => sum + w[i] * value, 0) / total;
    const beta = x.map((_, i) => {
      const u = x[i] - xMean;
      const v = y[i] - yMean;
      const cross = correlation[i] * ux[i] * uy[i];
      return w[i] * (u * uy[i] ** 2 + b * v * ux[i] ** 2 - (b * u + v) * cross);
    });
    let above = 0;
    let below = 0;
    for (let i = 0; i < n; i++) {
      above += w[i] * beta[i] * (y[i] - yMean);
      below += w[i] * beta[i] * (x[i] - xMean);
    }
    return { next: above / below, w, total, xMean, yMean, beta };
  };

  let slope = startingSlope(points);
  let iterations = 0;
  let state = step(slope);
  let previous = Number.POSITIVE_INFINITY;
  let settled = false;
  const size = (extremes(y)[1] - extremes(y)[0]) / (extremes(x)[1] - extremes(x)[0]);
  // Done when the slope stands still, or its changes have stopped shrinking at the rounding level.
  while (!settled && iterations < MOST_ITERATIONS && Number.isFinite(state.next)) {
    iterations++;
    const moved = Math.abs(state.next - slope);
    const atRounding = moved <= 1e-12 * Math.max(size, Math.abs(state.next));
    settled = moved === 0 || (atRounding && moved >= previous);
    previous = moved;
    slope = state.next;
    state = step(slope);
  }
  if (!settled) {
    throw new MeterpairError({
      code: 'no-convergence',
      message: 'The line with errors in both readings does not settle.',
      found: `${iterations} iterations`,
      expected: 'points whose scatter about a line is small beside their range',
    });
  }
  const { w, total, xMean, yMean, beta } = state;
  const intercept = yMean - slope * xMean;
  const residuals = y.map((value, i) => value - intercept - slope * x[i]);
  const chiSquare = residuals.reduce((sum, e, i) => sum + w[i] * e ** 2, 0);
  const adjustedX = beta.map((value) => xMean + value);
  const adjustedMean = adjustedX.reduce((sum, value, i) => sum + w[i] * value, 0) / total;
  const spread = adjustedX.reduce((sum, value, i) => sum + w[i] * (value - adjustedMean) ** 2, 0);
  const count = n - 2;
  const ratio = count > 0 ? chiSquare / count : null;
  const factor = scale === 'known' ? 1 : ratio;
  const slopeVariance = factor === null || !(spread > 0) ? null : factor / spread;
  const interceptVariance =
    factor === null || slopeVariance === null
      ? null
      : factor / total + adjustedMean ** 2 * slopeVariance;
  const dof = scale === 'known' ? KNOWN_EXACTLY : count;
  const coverage = slopeVariance === null ? null : lineCoverageFactor(confidence, dof);
  return {
    method: 'york',
    intercept: coefficient(
      intercept,
      interceptVariance === null ? null : Math.sqrt(interceptVariance),
      coverage,
    ),
    slope: coefficient(slope, slopeVariance === null ? null : Math.sqrt(slopeVariance), coverage),
    covariance: slopeVariance === null ? null : -adjustedMean * slopeVariance,
    dof,
    points: n,
    confidence,
    coverage_factor: coverage,
    residuals,
    residual_sd: ratio === null ? null : Math.sqrt(ratio),
    why: count > 0 ? '' : TWO_POINTS,
    chi_square: chiSquare,
    chi_square_dof: count,
    p: count > 0 ? 1 - chiSquareCdf(chiSquare, count) : null,
    adjusted: { x: adjustedX, y: adjustedX.map((value) => intercept + slope * value) },
    iterations,
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
