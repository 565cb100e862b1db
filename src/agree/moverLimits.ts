import { chiSquareQuantile, coverageFactor } from '../statistics/distributions.js';
import type { Interval } from '../vocabulary.js';

/** One independent part of the total variance: `estimate` (its coefficient included) on `dof`. */
export interface VariancePart {
  readonly estimate: number;
  readonly dof: number;
}

export interface MoverLimits {
  readonly low: number;
  readonly high: number;
  readonly low_interval: Interval;
  readonly high_interval: Interval;
  readonly bias_low: number;
  readonly bias_high: number;
}

/**
 * Limits bias ± multiplier·√(sum of variance parts) and their intervals by the method of variance
 * estimates recovery: the interval of the bias and the interval of the total variance, each exact
 * or nearly so, are joined at the limit.
 *
 * Source: Zou, Stat. Methods Med. Res. 22 (2013) 630. Departure: the bias takes Student's t in
 * place of the normal quantile, which matters with few groups.
 */
export function moverLimits(input: {
  readonly bias: number;
  readonly biasVariance: number;
  readonly biasDof: number;
  readonly parts: readonly VariancePart[];
  readonly confidence: number;
  readonly multiplier: number;
}): MoverLimits {
  const { bias, biasVariance, biasDof, parts, confidence, multiplier } = input;
  const total = parts.reduce((sum, part) => sum + part.estimate, 0);
  let below = 0;
  let above = 0;
  for (const { estimate, dof } of parts) {
    const lowest = dof / chiSquareQuantile((1 + confidence) / 2, dof);
    const highest = dof / chiSquareQuantile((1 - confidence) / 2, dof);
    below = Math.hypot(below, estimate * (1 - lowest));
    above = Math.hypot(above, estimate * (highest - 1));
  }
  const sd = Math.sqrt(total);
  const sdLow = Math.sqrt(total - below);
  const sdHigh = Math.sqrt(total + above);
  const half = coverageFactor(confidence, biasDof) * Math.sqrt(biasVariance);
  const outer = Math.hypot(half, multiplier * (sdHigh - sd));
  const inner = Math.hypot(half, multiplier * (sd - sdLow));
  const low = bias - multiplier * sd;
  const high = bias + multiplier * sd;
  return {
    low,
    high,
    low_interval: [low - outer, low + inner],
    high_interval: [high - inner, high + outer],
    bias_low: bias - half,
    bias_high: bias + half,
  };
}
