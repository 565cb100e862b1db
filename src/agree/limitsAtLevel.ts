import { coverageFactor } from '../statistics/distributions.js';
import { requireOptions } from '../statistics/options.js';
import { requireShape } from '../statistics/shapes.js';
import type { Interval } from '../vocabulary.js';
import { requireMultiplier } from './limitsOfAgreement.js';
import { LINES, type ProportionalBias } from './proportionalBias.js';

export interface LevelLimits {
  readonly level: number;
  readonly bias: number;
  /** Interval of the bias at this level, at the confidence of the lines. */
  readonly bias_interval: Interval;
  readonly sd: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** `linear`: the spread follows its line; `constant`: one residual standard deviation serves. */
  readonly spread: 'linear' | 'constant';
  /** Whether the level lies outside the levels that were measured. */
  readonly outside: boolean;
  readonly why: string;
}

/**
 * What are the limits of agreement at one level?
 *
 * @param lines from `proportionalBias`
 * @param level mean of both meters (its natural logarithm on the log scale)
 * @param options `spread`: by default `linear` when the spread's slope is significant at 5 %,
 *   `constant` otherwise, as the source proposes. A weak trend in few data hides: give `linear` where
 *   noise in proportion to power is expected.
 * @returns bias ± multiplier·sd, sd = √(π/2) × the line of absolute residuals (the mean size of a
 *   normal residual is √(2/π) sd); `null` where that line is not above 0
 * @throws argument-wrong
 *
 * Source: Bland and Altman, Stat. Methods Med. Res. 8 (1999) 135, section 3.2.
 */
export function limitsAtLevel(
  lines: ProportionalBias,
  level: number,
  options: { readonly multiplier?: number; readonly spread?: 'linear' | 'constant' } = {},
): LevelLimits {
  const { multiplier = 1.96 } = requireOptions(options, {
    multiplier: true,
    spread: { maybe: ['linear', 'constant'] },
  });
  requireShape(lines, 'The lines of proportionalBias', LINES);
  requireMultiplier(multiplier);
  requireShape(level, 'A level', 'number');
  const significant = lines.spread.slope_p !== null && lines.spread.slope_p < 0.05;
  const spread = options.spread ?? (significant ? 'linear' : 'constant');
  const { bias: line } = lines;
  const bias = line.intercept + line.slope * level;
  const error =
    line.residual_sd *
    Math.sqrt(1 / lines.n + (level - line.mean_level) ** 2 / line.sum_of_squares);
  const half = coverageFactor(lines.confidence, line.dof) * error;
  const size =
    spread === 'constant'
      ? line.residual_sd
      : Math.sqrt(Math.PI / 2) * (lines.spread.intercept + lines.spread.slope * level);
  const usable = spread === 'constant' || size > 0;
  const outside = level < lines.range[0] || level > lines.range[1];
  return {
    level,
    bias,
    bias_interval: [bias - half, bias + half],
    sd: usable ? size : null,
    low: usable ? bias - multiplier * size : null,
    high: usable ? bias + multiplier * size : null,
    spread,
    outside,
    why: !usable
      ? 'The line of the spread is not above 0 at this level.'
      : outside
        ? 'The level lies outside the levels that were measured.'
        : '',
  };
}
