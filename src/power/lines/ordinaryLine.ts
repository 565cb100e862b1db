import { leastSquares } from '../../statistics/leastSquares.js';
import { requireConfidence, requireOptions } from '../../statistics/options.js';
import { mean } from '../../statistics/summary.js';
import {
  coefficient,
  type Line,
  type LinePoints,
  lineCoverageFactor,
  requirePoints,
  TWO_POINTS,
} from './line.js';

/**
 * Ordinary least squares: the line that predicts y from x when the scatter is in y alone and equal
 * everywhere. Noise in x pulls its slope towards zero; use `demingLine` or `yorkLine` then.
 *
 * @param points x and y, at least two points, x not all equal
 * @param options `confidence` as a fraction (default 0.95)
 * @returns the line; `residual_sd` in the unit of y, `r_squared` from 0 to 1 (`null` when y is
 *   constant)
 * @throws argument-wrong, too-few-values
 * Source: any textbook; JCGM 100:2008, H.3 (equations H.13a to H.13g).
 */
export function ordinaryLine(
  points: LinePoints,
  options: { readonly confidence?: number } = {},
): Line & { readonly r_squared: number | null } {
  requireOptions(options, { confidence: true });
  const confidence = options.confidence ?? 0.95;
  requireConfidence(confidence);
  requirePoints(points, 2);
  // Fitted about the mean of x: intercept and slope are then uncorrelated and rounding stays small.
  const centre = mean(points.x);
  const fit = leastSquares(
    points.x.map((x) => [1, x - centre]),
    points.y,
  );
  const [level, slope] = fit.coefficients;
  const variance = fit.dof > 0 ? fit.residualSumOfSquares / fit.dof : null;
  const levelVariance = variance === null ? null : variance * fit.unscaledCovariance[0][0];
  const slopeVariance = variance === null ? null : variance * fit.unscaledCovariance[1][1];
  const interceptUncertainty =
    levelVariance === null || slopeVariance === null
      ? null
      : Math.sqrt(levelVariance + centre ** 2 * slopeVariance);
  const coverage = fit.dof > 0 ? lineCoverageFactor(confidence, fit.dof) : null;
  const yMean = mean(points.y);
  const total = points.y.reduce((sum, y) => sum + (y - yMean) ** 2, 0);
  return {
    method: 'ordinary',
    intercept: coefficient(level - slope * centre, interceptUncertainty, coverage),
    slope: coefficient(slope, slopeVariance === null ? null : Math.sqrt(slopeVariance), coverage),
    covariance: slopeVariance === null ? null : -centre * slopeVariance,
    dof: fit.dof,
    points: points.x.length,
    confidence,
    coverage_factor: coverage,
    residuals: fit.residuals,
    residual_sd: variance === null ? null : Math.sqrt(variance),
    why: fit.dof > 0 ? '' : TWO_POINTS,
    r_squared: total > 0 ? Math.max(0, 1 - fit.residualSumOfSquares / total) : null,
  };
}
