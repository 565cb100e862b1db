import { argumentWrong, failure } from '../error.js';
import { requireList, requireShape } from './shapes.js';

export interface Jackknife {
  readonly estimate: number;
  /** Bias of the estimate: subtract it to correct. */
  readonly bias: number;
  readonly standard_error: number;
  /** Skewness of the influence of single items; the acceleration of the BCa bootstrap. */
  readonly acceleration: number;
}

/**
 * What does leaving out one item at a time say about bias and standard error of a statistic?
 *
 * @param sample items of any kind (numbers, pairs, series); two or more
 * @throws too-few-values, argument-wrong when the statistic is not finite on the sample less one
 *
 * Not for medians and other statistics that jump.
 * Source: Efron and Tibshirani, An Introduction to the Bootstrap (1993), equations 11.4, 11.5, 14.15.
 */
export function jackknife<Item>(
  sample: readonly Item[],
  statistic: (sample: readonly Item[]) => number,
): Jackknife {
  requireList(sample, 'The sample');
  requireShape(statistic, 'The statistic', 'function');
  const n = sample.length;
  if (n < 2) {
    throw failure('too-few-values', 'The jackknife needs at least 2 items.', n);
  }
  const estimate = statistic(sample);
  const without = sample.map((_, i) => statistic(sample.filter((_, j) => j !== i)));
  if (![estimate, ...without].every((value) => Number.isFinite(value))) {
    throw argumentWrong('The statistic must be finite on the sample and without any one item.');
  }
  const centre = without.reduce((sum, value) => sum + value, 0) / n;
  let squares = 0;
  let cubes = 0;
  for (const value of without) {
    squares += (centre - value) ** 2;
    cubes += (centre - value) ** 3;
  }
  return {
    estimate,
    bias: (n - 1) * (centre - estimate),
    standard_error: Math.sqrt(((n - 1) / n) * squares),
    acceleration: squares > 0 ? cubes / (6 * squares ** 1.5) : 0,
  };
}
