import { oneWay } from '../statistics/oneWay.js';
import { requireConfidence, requireOptions } from '../statistics/options.js';
import { requireList, requireNumbers } from '../statistics/shapes.js';
import { mean, standardDeviation } from '../statistics/summary.js';
import type { LimitsOfAgreement } from '../vocabulary.js';
import { checkDifferences } from './checkDifferences.js';
import {
  LIMITS_OPTIONS,
  type LimitsOptions,
  limitsOf,
  NO_LIMITS,
  requireMultiplier,
} from './limitsOfAgreement.js';
import { moverLimits } from './moverLimits.js';
import { summariseDifferences } from './summarise.js';

/** Limits for one more difference on one more series; `null` fields have their reason in `why`. */
export interface ReplicateLimits extends LimitsOfAgreement {
  /** Mean of the series' means, each series counting once. */
  readonly bias: number | null;
  readonly bias_low: number | null;
  readonly bias_high: number | null;
  /** Standard deviation of one difference on a series drawn anew. */
  readonly sd_total: number | null;
  readonly sd_within: number | null;
  /** 0 when the means scatter no more than the scatter within series explains. */
  readonly sd_between: number | null;
  readonly groups: number;
  readonly pairs: number;
  readonly why: string;
}

/**
 * Between which limits do differences lie when several pairs come from each series?
 *
 * Pairs of one series share what is peculiar to that series, so they are not independent: pooling
 * them makes the limits too narrow and far too sure. Within each pair both meters saw the same
 * power, which may move from pair to pair.
 *
 * @param groups one array of differences (candidate − reference) per series; sizes may differ,
 *   empty series are left out
 * @returns limits bias ± multiplier·sd_total and their intervals (unit of the differences).
 *   sd_total² = variance of the series' means + (1 − 1/m)·sd_within², m the harmonic mean of the
 *   sizes; with equal sizes that is the analysis of variance of Bland and Altman. One series: its
 *   bias and scatter within, but no limits, for the scatter between series is then unknown.
 * @throws argument-wrong
 *
 * Source: Bland and Altman, Stat. Methods Med. Res. 8 (1999) 135, section 5.3, and J. Biopharm.
 * Stat. 17 (2007) 571; unequal sizes and intervals: Zou, Stat. Methods Med. Res. 22 (2013) 630.
 */
export function replicateLimits(
  groups: readonly (readonly number[])[],
  options: LimitsOptions = {},
): ReplicateLimits {
  const { confidence = 0.95, multiplier = 1.96 } = requireOptions(options, LIMITS_OPTIONS);
  requireConfidence(confidence);
  requireMultiplier(multiplier);
  requireList(groups, 'The series');
  for (const group of groups) requireNumbers(group, 'The differences of a series');
  const used = groups.filter((group) => group.length > 0);
  for (const group of used) checkDifferences(group);
  const counts = {
    groups: used.length,
    pairs: used.reduce((sum, group) => sum + group.length, 0),
  };
  if (used.length < 2) {
    const [only = []] = used;
    return {
      ...NO_LIMITS,
      bias: only.length > 0 ? mean(only) : null,
      bias_low: null,
      bias_high: null,
      sd_total: null,
      sd_within: only.length > 1 ? standardDeviation(only) : null,
      sd_between: null,
      ...counts,
      why:
        used.length === 0
          ? 'There is no pair of readings.'
          : 'One series cannot show how much the difference varies from series to series.',
    };
  }
  const parts = oneWay(used);
  const { bias, ...rest } =
    parts.mean_square_within === null
      ? singles(parts.group_means, options)
      : replicated(parts, parts.mean_square_within, confidence, multiplier);
  return { bias, ...rest, ...counts };
}

function singles(values: readonly number[], options: LimitsOptions) {
  const summary = summariseDifferences(values, { confidence: options.confidence ?? 0.95 });
  return {
    ...limitsOf(values, options),
    bias: summary.mean,
    bias_low: summary.low,
    bias_high: summary.high,
    sd_total: summary.sd,
    sd_within: null,
    sd_between: null,
    why: 'Every series has one pair: scatter within and between series cannot be told apart.',
  };
}

function replicated(
  parts: ReturnType<typeof oneWay>,
  within: number,
  confidence: number,
  multiplier: number,
) {
  const { groups, values, variance_of_means: ofMeans, harmonic_size: size } = parts;
  const bias = mean(parts.group_means);
  const withinPart = (1 - 1 / size) * within;
  const limits = moverLimits({
    bias,
    biasVariance: ofMeans / groups,
    biasDof: groups - 1,
    parts: [
      { estimate: ofMeans, dof: groups - 1 },
      { estimate: withinPart, dof: values - groups },
    ],
    confidence,
    multiplier,
  });
  const between = ofMeans - within / size;
  return {
    ...limits,
    bias,
    sd_total: Math.sqrt(ofMeans + withinPart),
    sd_within: Math.sqrt(within),
    sd_between: Math.sqrt(Math.max(0, between)),
    why:
      between > 0
        ? ''
        : 'The series differ no more than the scatter within them explains; scatter between them is set to 0.',
  };
}
