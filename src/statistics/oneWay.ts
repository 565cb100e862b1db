import { failure } from '../error.js';
import { mean, requireValues, standardDeviation } from './summary.js';

/** One-way analysis of variance with groups as random effects. */
export interface OneWay {
  readonly groups: number;
  readonly values: number;
  readonly group_means: readonly number[];
  /** Pooled variance within groups; dof values − groups. `null` when every group has one value. */
  readonly mean_square_within: number | null;
  readonly harmonic_size: number;
  /** Variance of the group means, each mean counting once; dof groups − 1. */
  readonly variance_of_means: number;
}

/**
 * How much of the scatter is within groups, how much between them?
 *
 * @param groups two or more groups of one or more values; sizes may differ
 * @throws too-few-values for fewer than two groups or an empty group, argument-wrong
 *
 * Source: one-way random-effects analysis of variance, e.g. Searle, Casella and McCulloch, Variance
 * Components (1992), section 3.6; unweighted means: Thomas and Hultquist, Ann. Stat. 6 (1978) 582.
 */
export function oneWay(groups: readonly (readonly number[])[]): OneWay {
  if (groups.length < 2) {
    throw failure(
      'too-few-values',
      'Scatter between groups needs at least 2 groups.',
      groups.length,
    );
  }
  for (const group of groups) requireValues(group, 1, 'A group');
  const g = groups.length;
  const n = groups.reduce((sum, group) => sum + group.length, 0);
  const means = groups.map((group) => mean(group));
  let within = 0;
  groups.forEach((group, i) => {
    for (const value of group) within += (value - means[i]) ** 2;
  });
  return {
    groups: g,
    values: n,
    group_means: means,
    mean_square_within: n > g ? within / (n - g) : null,
    harmonic_size: g / groups.reduce((sum, group) => sum + 1 / group.length, 0),
    variance_of_means: standardDeviation(means) ** 2,
  };
}
