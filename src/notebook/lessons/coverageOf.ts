import { argumentWrong } from '../../error.js';
import type { Estimate } from './lapEstimate.js';

/** How often intervals held the truth. */
export interface Coverage {
  readonly times: number;
  readonly held: number;
  readonly fraction: number;
  /** Standard uncertainty of `fraction` from the number of repetitions alone. */
  readonly standardUncertainty: number;
  /** Mean half-width of the intervals as a fraction of K. */
  readonly halfWidth: number;
}

/** Does this interval hold the truth? */
export function holds(estimate: Estimate, truth: number): boolean {
  return estimate.low <= truth && truth <= estimate.high;
}

/**
 * How often do these intervals hold the truth?
 *
 * @throws argument-wrong for an empty list
 * @see the standard uncertainty is that of a binomial proportion, √(p(1 − p)/n), with one of each
 *   outcome added so that 0 of n is not taken for certainty
 */
export function coverageOf(estimates: readonly Estimate[], truth: number): Coverage {
  const times = estimates.length;
  if (times === 0) throw argumentWrong('There is no interval to count.', times);
  const held = estimates.filter((one) => holds(one, truth)).length;
  const p = (held + 1) / (times + 2);
  const widths = estimates.map(({ low, high }) => Math.log(high / low) / 2);
  return {
    times,
    held,
    fraction: held / times,
    standardUncertainty: Math.sqrt((p * (1 - p)) / times),
    halfWidth: widths.reduce((sum, one) => sum + one, 0) / times,
  };
}
