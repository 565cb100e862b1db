import { chiSquareCdf } from '../../statistics/distributions.js';
import { CONFIDENCE, requireOptions } from '../../statistics/options.js';
import { KNOWN_EXACTLY } from '../../vocabulary.js';
import { centredFit } from './centredFit.js';
import {
  type Line,
  type LinePoints,
  type LineUncertainty,
  lineRecord,
  requirePoints,
  requireUncertainties,
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
  const { scale = 'known', confidence = 0.95 } = requireOptions(options, {
    scale: { maybe: ['known', 'estimated'] },
    confidence: CONFIDENCE,
  });
  requirePoints(points, 2);
  const own = 'The standard uncertainty of y';
  requireUncertainties(points.y_standard_uncertainty, points, own, 'above-zero');
  const weights = points.y_standard_uncertainty.map((u) => 1 / u ** 2);
  const fit = centredFit(points, weights);
  return {
    ...lineRecord({
      method: 'weighted',
      intercept: fit.intercept,
      slope: fit.slope,
      ...scaled(fit.uncertainty, fit.residualSumOfSquares, fit.dof, scale),
      confidence,
      residuals: fit.residuals,
    }),
    ...goodnessOfFit(fit.residualSumOfSquares, fit.dof),
  };
}

/** What chi-square makes of the uncertainty of a line, and of its degrees of freedom. */
export function scaled(
  uncertainty: (variance: number) => LineUncertainty | null,
  chiSquare: number,
  count: number,
  scale: UncertaintyScale,
): Pick<Line, 'dof' | 'residual_sd'> & { readonly uncertainty: LineUncertainty | null } {
  const ratio = count > 0 ? chiSquare / count : null;
  const factor = scale === 'known' ? 1 : ratio;
  return {
    uncertainty: factor === null ? null : uncertainty(factor),
    dof: scale === 'known' ? KNOWN_EXACTLY : count,
    residual_sd: ratio === null ? null : Math.sqrt(ratio),
  };
}

export function goodnessOfFit(chiSquare: number, count: number): GoodnessOfFit {
  return {
    chi_square: chiSquare,
    chi_square_dof: count,
    p: count > 0 ? 1 - chiSquareCdf(chiSquare, count) : null,
  };
}
