import { argumentWrong, failure } from '../error.js';
import { oneWay } from '../statistics/oneWay.js';
import { requireConfidence, requireOptions } from '../statistics/options.js';
import { requireList, requireRecord, requireShape, type Shape } from '../statistics/shapes.js';
import { mean, standardDeviation } from '../statistics/summary.js';
import type { LimitsOfAgreement } from '../vocabulary.js';
import { checkDifferences } from './checkDifferences.js';
import { LIMITS_OPTIONS, type LimitsOptions, requireMultiplier } from './limitsOfAgreement.js';
import { moverLimits } from './moverLimits.js';

/** Scatter of one meter's repeats on an unchanged quantity. */
export interface RepeatFigures {
  /** Variance within sources, pooled. */
  readonly variance: number;
  /** Harmonic mean of the numbers of repeats. */
  readonly size: number;
  /** Degrees of freedom of the variance. */
  readonly dof: number;
}

export interface ReplicatedMethodsFigures {
  /** Number of sources. */
  readonly n: number;
  /** Mean and variance of the differences between the means of the repeats. */
  readonly bias: number;
  readonly variance_of_means: number;
  readonly reference: RepeatFigures;
  readonly candidate: RepeatFigures;
}

export interface ReplicatedMethodsLimits extends LimitsOfAgreement {
  readonly bias: number;
  readonly bias_low: number;
  readonly bias_high: number;
  /** Standard deviation of the difference between single readings. */
  readonly sd_total: number;
  /** Standard deviation of the differences between the means of the repeats. */
  readonly sd_of_means: number;
  /** Repeatability standard deviation of each meter; `null` when it was read once per source. */
  readonly sd_reference: number | null;
  readonly sd_candidate: number | null;
}

/**
 * `replicatedMethodsLimits` from summary figures. @throws argument-wrong, also for variances below 0,
 * such as an estimate of what differs between sources: a variance of the means is never negative.
 */
export function replicatedMethodsLimitsFromFigures(
  figures: ReplicatedMethodsFigures,
  options: LimitsOptions = {},
): ReplicatedMethodsLimits {
  const { confidence = 0.95, multiplier = 1.96 } = requireOptions(options, LIMITS_OPTIONS);
  requireConfidence(confidence);
  requireMultiplier(multiplier);
  requireFigures(figures);
  const { n, bias, variance_of_means: ofMeans, reference, candidate } = figures;
  const parts = [
    { estimate: ofMeans, dof: n - 1 },
    ...[reference, candidate]
      .filter((meter) => meter.dof > 0)
      .map((meter) => ({ estimate: (1 - 1 / meter.size) * meter.variance, dof: meter.dof })),
  ];
  const limits = moverLimits({
    bias,
    biasVariance: ofMeans / n,
    biasDof: n - 1,
    parts,
    confidence,
    multiplier,
  });
  return {
    ...limits,
    bias,
    sd_total: Math.sqrt(parts.reduce((sum, part) => sum + part.estimate, 0)),
    sd_of_means: Math.sqrt(ofMeans),
    sd_reference: reference.dof > 0 ? Math.sqrt(reference.variance) : null,
    sd_candidate: candidate.dof > 0 ? Math.sqrt(candidate.variance) : null,
  };
}

const REPEATS: Shape = {
  fields: { variance: 'not-negative', size: 'number', dof: 'not-negative' },
};
const FIGURES: Shape = {
  fields: {
    n: 'number',
    bias: 'number',
    variance_of_means: 'not-negative',
    reference: REPEATS,
    candidate: REPEATS,
  },
};

function requireFigures(figures: ReplicatedMethodsFigures): void {
  requireShape(figures, 'The figures', FIGURES);
  const { n, bias, variance_of_means, reference, candidate } = figures;
  if (!(Number.isInteger(n) && n >= 2)) throw argumentWrong('Limits need at least 2 sources.', n);
  checkDifferences([bias]);
  for (const variance of [variance_of_means, reference.variance, candidate.variance]) {
    if (variance > 1e300) throw argumentWrong('A variance is out of range.', variance, 'to 1e300');
  }
  for (const { size } of [reference, candidate]) {
    if (size < 1) throw argumentWrong('Repeats need a mean number from 1 up.', size);
  }
}

/**
 * Between which limits do single readings differ when each meter read every source several times,
 * the power of the source standing still and the repeats not being paired?
 *
 * Differences of means hide part of each meter's own scatter; it is put back.
 *
 * @param sources per source the repeats of both meters (one or more each); two sources or more
 * @returns limits for candidate − reference, single reading against single reading, with intervals
 * @throws too-few-values, argument-wrong
 *
 * Not for pairs whose true value moves: `replicateLimits`.
 * Source: Bland and Altman, Stat. Methods Med. Res. 8 (1999) 135, sections 5.1 and 5.2 (unequal
 * numbers by the mean of 1/m); 1986 for two repeats each. Intervals: Zou 2013.
 */
export function replicatedMethodsLimits(
  sources: readonly {
    readonly reference: readonly number[];
    readonly candidate: readonly number[];
  }[],
  options: LimitsOptions = {},
): ReplicatedMethodsLimits {
  requireList(sources, 'The sources');
  if (sources.length < 2) {
    throw failure('too-few-values', 'Limits need at least 2 sources.', sources.length);
  }
  for (const source of sources) {
    requireRecord(source, 'A source', ['reference', 'candidate']);
    checkDifferences(source.reference);
    checkDifferences(source.candidate);
  }
  const repeats = (
    groups: readonly (readonly number[])[],
  ): RepeatFigures & { means: readonly number[] } => {
    const parts = oneWay(groups);
    return {
      variance: parts.mean_square_within ?? 0,
      size: parts.harmonic_size,
      dof: parts.values - parts.groups,
      means: parts.group_means,
    };
  };
  const reference = repeats(sources.map((source) => source.reference));
  const candidate = repeats(sources.map((source) => source.candidate));
  const differences = candidate.means.map((value, i) => value - reference.means[i]);
  return replicatedMethodsLimitsFromFigures(
    {
      n: sources.length,
      bias: mean(differences),
      variance_of_means: standardDeviation(differences) ** 2,
      reference,
      candidate,
    },
    options,
  );
}
