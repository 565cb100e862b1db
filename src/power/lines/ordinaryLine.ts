import { CONFIDENCE, requireOptions } from '../../statistics/options.js';
import { mean } from '../../statistics/summary.js';
import { centredFit } from './centredFit.js';
import { type Line, type LinePoints, lineRecord, requirePoints } from './line.js';

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
  const { confidence = 0.95 } = requireOptions(options, { confidence: CONFIDENCE });
  requirePoints(points, 2);
  const fit = centredFit(points);
  const variance = fit.dof > 0 ? fit.residualSumOfSquares / fit.dof : null;
  const yMean = mean(points.y);
  const total = points.y.reduce((sum, y) => sum + (y - yMean) ** 2, 0);
  return {
    ...lineRecord({
      method: 'ordinary',
      intercept: fit.intercept,
      slope: fit.slope,
      uncertainty: variance === null ? null : fit.uncertainty(variance),
      dof: fit.dof,
      confidence,
      residuals: fit.residuals,
      residual_sd: variance === null ? null : Math.sqrt(variance),
    }),
    r_squared: total > 0 ? Math.max(0, 1 - fit.residualSumOfSquares / total) : null,
  };
}
