import { quantileSorted } from 'simple-statistics';
import { mean } from '../../statistics/summary.js';
import type { Estimate } from './lapEstimate.js';

/** How far estimates lie from the truth, in percent of the truth. */
export interface Errors {
  readonly mean: number;
  /** Between these lie the middle 50 % and the middle 95 % of the errors. */
  readonly middleHalf: readonly [number, number];
  readonly most: readonly [number, number];
}

/** @throws too-few-values for an empty list */
export function errorsOf(estimates: readonly Estimate[], truth: number): Errors {
  const errors = estimates.map(({ value }) => 100 * (value / truth - 1));
  const centre = mean(errors);
  const sorted = [...errors].sort((a, b) => a - b);
  const at = (p: number) => quantileSorted(sorted, p);
  return { mean: centre, middleHalf: [at(0.25), at(0.75)], most: [at(0.025), at(0.975)] };
}
