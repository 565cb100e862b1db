/** How far off are estimates, and how often do intervals hold the truth? */
import { quantileSorted } from 'simple-statistics';
import { argumentWrong } from '../../error.js';
import { mean, standardDeviation } from '../../statistics/summary.js';
import type { Series } from '../../vocabulary.js';
import { type Estimate, lapLogs } from './estimates.js';

/** What the intervals of the lessons claim. */
export const PROMISED = 0.95;

/** How often something happened. */
export interface Share {
  readonly times: number;
  readonly held: number;
  readonly fraction: number;
  /** Standard uncertainty of `fraction` from the number of repetitions alone. */
  readonly standardUncertainty: number;
}

/** How often intervals held the truth. */
export interface Coverage extends Share {
  /** Mean half-width of the intervals as a fraction of K. */
  readonly halfWidth: number;
  /** Standard error of that mean. */
  readonly halfWidthError: number;
}

/**
 * So many of so many.
 *
 * @throws argument-wrong for none to count
 * @see the standard uncertainty is that of a binomial proportion, √(p(1 − p)/n), with one of each
 *   outcome added so that 0 of n is not taken for certainty
 */
export function shareOf(held: number, times: number): Share {
  if (times === 0) throw argumentWrong('There is nothing to count.', times);
  const p = (held + 1) / (times + 2);
  const standardUncertainty = Math.sqrt((p * (1 - p)) / times);
  return { times, held, fraction: held / times, standardUncertainty };
}

/** Does this interval hold the truth? */
export function holds(estimate: Estimate, truth: number): boolean {
  return estimate.low <= truth && truth <= estimate.high;
}

/**
 * How often do these intervals hold the truth?
 *
 * @throws argument-wrong for an empty list
 */
export function coverageOf(estimates: readonly Estimate[], truth: number): Coverage {
  const share = shareOf(estimates.filter((one) => holds(one, truth)).length, estimates.length);
  const widths = estimates.map(({ low, high }) => Math.log(high / low) / 2);
  return {
    ...share,
    halfWidth: mean(widths),
    halfWidthError: share.times < 2 ? 0 : standardDeviation(widths) / Math.sqrt(share.times),
  };
}

/** Values of many repetitions. */
export interface Spread {
  readonly mean: number;
  /** Standard error of that mean. */
  readonly standardError: number;
  /** Between these lie the middle 50 % and the middle 95 % of the values. */
  readonly middleHalf: readonly [number, number];
  readonly most: readonly [number, number];
}

/** @throws too-few-values for fewer than two */
export function spreadOf(values: readonly number[]): Spread {
  const sorted = [...values].sort((a, b) => a - b);
  const at = (p: number) => quantileSorted(sorted, p);
  return {
    mean: mean(values),
    standardError: standardDeviation(values) / Math.sqrt(values.length),
    middleHalf: [at(0.25), at(0.75)],
    most: [at(0.025), at(0.975)],
  };
}

/** How far estimates lie from the truth, in percent of it. @throws too-few-values for fewer than two */
export const errorsOf = (estimates: readonly Estimate[], truth: number): Spread =>
  spreadOf(estimates.map(({ value }) => 100 * (value / truth - 1)));

/** How often one kind of interval held the truth, for several numbers of laps. */
export interface CoverageLine {
  readonly name: string;
  readonly points: readonly { readonly laps: number; readonly coverage: Coverage }[];
}

/** A way from the laps of a series to an interval. */
export interface NamedEstimate {
  readonly name: string;
  readonly estimate: (logs: readonly number[]) => Estimate;
}

/**
 * How often do intervals hold the truth, for several numbers of laps?
 *
 * @param options.series the repetitions with so many laps
 * @param options.ways each of them sees the same laps
 */
export function coverageByLaps(options: {
  readonly laps: readonly number[];
  readonly series: (laps: number) => readonly Series[];
  readonly ways: readonly NamedEstimate[];
  readonly truth: number;
}): readonly CoverageLine[] {
  const logs = options.laps.map((laps) => ({
    laps,
    all: options.series(laps).map((series) => lapLogs(series)),
  }));
  return options.ways.map(({ name, estimate }) => ({
    name,
    points: logs.map(({ laps, all }) => ({
      laps,
      coverage: coverageOf(all.map(estimate), options.truth),
    })),
  }));
}
