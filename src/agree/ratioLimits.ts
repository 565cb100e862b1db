import { failure } from '../error.js';
import { requireOptions } from '../statistics/options.js';
import { requireNumbers } from '../statistics/shapes.js';
import type { LimitsOfAgreement } from '../vocabulary.js';
import { LIMITS_OPTIONS, type LimitsOptions, limitsOf } from './limitsOfAgreement.js';
import { summariseDifferences } from './summarise.js';

export interface RatioLimits {
  readonly n: number;
  /** Geometric mean of the ratios; `null` without a ratio. */
  readonly ratio: number | null;
  /** Interval of the geometric mean. */
  readonly low: number | null;
  readonly high: number | null;
  /** Standard deviation of the natural logarithms: nearly the relative scatter when small. */
  readonly log_sd: number | null;
  /** Limits of agreement of the ratio. */
  readonly limits: LimitsOfAgreement;
}

/** Natural logarithms of positive ratios. @throws reading-not-positive. */
export function logarithmsOf(ratios: readonly number[]): number[] {
  requireNumbers(ratios, 'Ratios');
  return ratios.map((ratio) => {
    if (!(ratio > 0) || !Number.isFinite(ratio)) {
      throw failure('reading-not-positive', 'A ratio has to be a finite number above 0.', ratio);
    }
    return Math.log(ratio);
  });
}

/** A ratio beyond e^±700 cannot be stored; it says that the data tell nothing. */
export const storable = (log: number): number => Math.min(700, Math.max(-700, log));

/** exp, kept finite. */
export const back = (log: number | null): number | null =>
  log === null ? null : Math.exp(storable(log));

/** Limits of logarithms as limits of ratios. */
export const limitsBack = ({ low, high, ...limits }: LimitsOfAgreement): LimitsOfAgreement => ({
  low: back(low),
  high: back(high),
  low_interval: [back(limits.low_interval[0]), back(limits.low_interval[1])],
  high_interval: [back(limits.high_interval[0]), back(limits.high_interval[1])],
});

/**
 * Between which factors do 95 % of the ratios candidate ÷ reference lie?
 *
 * @param ratios independent ratios, above 0
 * @returns geometric mean with its t interval, limits with their exact intervals, all as ratios
 *   (1 means equal). Below two ratios the limits are `null`.
 * @throws reading-not-positive, argument-wrong
 *
 * The choice where the spread grows in proportion to the power, as it mostly does. The limits are
 * symmetric as factors, not as differences.
 * Source: Bland and Altman, Stat. Methods Med. Res. 8 (1999) 135, section 3.1 (log transformation).
 */
export function ratioLimits(ratios: readonly number[], options: LimitsOptions = {}): RatioLimits {
  const { confidence = 0.95 } = requireOptions(options, LIMITS_OPTIONS);
  const logs = logarithmsOf(ratios);
  const summary = summariseDifferences(logs, { confidence });
  return {
    n: ratios.length,
    ratio: back(summary.mean),
    low: back(summary.low),
    high: back(summary.high),
    log_sd: summary.sd,
    limits: limitsBack(limitsOf(logs, options)),
  };
}
