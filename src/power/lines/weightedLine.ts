import { chiSquareCdf } from '../../statistics/distributions.js';
import { leastSquares } from '../../statistics/leastSquares.js';
import { requireConfidence, requireOptions } from '../../statistics/options.js';
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

/** How well points fit a line whose uncertainties were given. */
export interface GoodnessOfFit {
  /** Σ (residual / uncertainty)². */
  readonly chi_square: number;
  /** Points minus two. */
  readonly chi_square_dof: number;
  /** Probability of a larger chi-square when the line and the uncertainties are right. */
  readonly p: number | null;
}

/** `known`: the uncertainties are believed; `estimated`: only their ratios, the scatter scales them. */
export type UncertaintyScale = 'known' | 'estimated';

/**
 * Weighted least squares: the line through points whose y have different standard uncertainties and
 * whose x count as exact.
 *
 * @param points x, y and `y_standard_uncertainty` (unit of y, above 0)
 * @param options `scale` (default `known`), `confidence` as a fraction (default 0.95)
 * @returns the line with chi-square and its p; `residual_sd` is √(chi-square / dof), without unit
 * @throws argument-wrong, too-few-values
 * Source: ISO/TS 28037:2010, clause 6.
 */
export function weightedLine(
  points: LinePoints & { readonly y_standard_uncertainty: readonly number[] },
  options: { readonly scale?: UncertaintyScale; readonly confidence?: number } = {},
): Line & GoodnessOfFit {
  requireOptions(options, { scale: true, confidence: true });
  const confidence = options.confidence ?? 0.95;
  const scale = options.scale ?? 'known';
  requireConfidence(confidence);
  requirePoints(points, 2);
  requireUncertainties(points.y_standard_uncertainty, {
    count: points.y.length,
    what: 'The standard uncertainty of y',
    zeroAllowed: false,
  });
  const weights = points.y_standard_uncertainty.map((u) => 1 / u ** 2);
  const weight = weights.reduce((sum, w) => sum + w, 0);
  const centre = points.x.reduce((sum, x, i) => sum + weights[i] * x, 0) / weight;
  const fit = leastSquares(
    points.x.map((x) => [1, x - centre]),
    points.y,
    weights,
  );
  const [level, slope] = fit.coefficients;
  const ratio = fit.dof > 0 ? fit.residualSumOfSquares / fit.dof : null;
  const factor = scale === 'known' ? 1 : ratio;
  const dof = scale === 'known' ? KNOWN_EXACTLY : fit.dof;
  const slopeVariance = factor === null ? null : factor * fit.unscaledCovariance[1][1];
  const levelVariance = factor === null ? null : factor * fit.unscaledCovariance[0][0];
  const interceptUncertainty =
    slopeVariance === null || levelVariance === null
      ? null
      : Math.sqrt(levelVariance + centre ** 2 * slopeVariance);
  const coverage = factor === null ? null : lineCoverageFactor(confidence, dof);
  return {
    method: 'weighted',
    intercept: coefficient(level - slope * centre, interceptUncertainty, coverage),
    slope: coefficient(slope, slopeVariance === null ? null : Math.sqrt(slopeVariance), coverage),
    covariance: slopeVariance === null ? null : -centre * slopeVariance,
    dof,
    points: points.x.length,
    confidence,
    coverage_factor: coverage,
    residuals: fit.residuals,
    residual_sd: ratio === null ? null : Math.sqrt(ratio),
    why: fit.dof > 0 ? '' : TWO_POINTS,
    chi_square: fit.residualSumOfSquares,
    chi_square_dof: fit.dof,
    p: fit.dof > 0 ? 1 - chiSquareCdf(fit.residualSumOfSquares, fit.dof) : null,
  };
}
