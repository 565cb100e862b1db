/** Mean and standard deviation of plain arrays, guarded. */

import { mean as plainMean } from 'simple-statistics';
import { argumentWrong, failure } from '../error.js';
import type { Interval } from '../vocabulary.js';
import { requireList, requireNumbers } from './shapes.js';

/** Refuses arrays with fewer than `least` values or with a value that is not finite. */
export function requireValues(values: readonly number[], least: number, what: string): void {
  requireList(values, what);
  // One pass where all is well: what is no number is not finite either.
  let wrong = 0;
  while (Number.isFinite(values[wrong])) wrong++;
  if (wrong < values.length) requireNumbers(values, what);
  if (values.length < least) {
    throw failure('too-few-values', `${what} needs at least ${least} values.`, values.length);
  }
  if (wrong < values.length) {
    throw argumentWrong(`${what} needs finite numbers.`, values[wrong]);
  }
}

/** Arithmetic mean. @throws too-few-values for an empty array. */
export function mean(values: readonly number[]): number {
  requireValues(values, 1, 'A mean');
  return plainMean(values as number[]);
}

/** Sample standard deviation, divisor n − 1, two passes. @throws too-few-values below two values. */
export function standardDeviation(values: readonly number[]): number {
  requireValues(values, 2, 'A standard deviation');
  const centre = plainMean(values as number[]);
  // The second sum takes out what rounding left in the mean (Chan, Golub and LeVeque 1983).
  let squares = 0;
  let rest = 0;
  for (const value of values) {
    squares += (value - centre) ** 2;
    rest += value - centre;
  }
  return Math.sqrt((squares - (rest * rest) / values.length) / (values.length - 1));
}

/** Smallest and largest of a list of any length. */
export function extremes(values: ArrayLike<number>): [number, number] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < values.length; i++) {
    const value = values[i];
    // What is no number shows in both, as it does in Math.min.
    if (!(value >= low)) low = value;
    if (!(value <= high)) high = value;
  }
  return [low, high];
}

/** Smallest interval that holds all the given ones, at least one. */
export const hull = (intervals: readonly Interval[]): Interval => [
  Math.min(...intervals.map(([low]) => low)),
  Math.max(...intervals.map(([, high]) => high)),
];
