/** Ways to leave laps out of a mean, honest ones and those that people use, and what comes of them. */
import { argumentWrong } from '../../error.js';
import { lapPairs } from '../../series/lapPairs.js';
import { seededRandom } from '../../statistics/random.js';
import { mean, standardDeviation } from '../../statistics/summary.js';
import type { Series } from '../../vocabulary.js';
import { type Coverage, coverageOf } from './counts.js';
import { lapEstimate } from './estimates.js';

/** A lap as the one sees it who decides. */
export interface DecidedLap {
  /** ln(reference ÷ candidate). */
  readonly log: number;
  /** What was written down at the bench, before anybody looked at the number. */
  readonly note: string | null;
}

/** Laps in, the laps that stay out; always two or more. */
export type LeaveOutRule = (laps: readonly DecidedLap[]) => readonly DecidedLap[];

export const keepAll: LeaveOutRule = (laps) => laps;

/** Without those that carry a note of something that happened. */
export const withoutNoted: LeaveOutRule = (laps) =>
  atLeastTwo(
    laps.filter((lap) => lap.note === null),
    laps,
  );

/** Without the first laps, whatever they show. */
export function withoutFirst(count: number): LeaveOutRule {
  return (laps) => atLeastTwo(laps.slice(count), laps);
}

/** Without the lap furthest from the mean, then the one furthest from the mean of the rest, … */
export function withoutFurthest(count: number): LeaveOutRule {
  return (laps) => {
    let kept = laps;
    for (let i = 0; i < count && kept.length > 2; i++) kept = kept.filter(isNot(furthest(kept)));
    return kept;
  };
}

/**
 * Without the furthest lap for as long as it lies further from the mean than so many standard
 * deviations of those that are left.
 *
 * @throws argument-wrong for a number not above 0
 */
export function withoutBeyond(deviations: number): LeaveOutRule {
  if (!(deviations > 0)) throw argumentWrong('Deviations must be above 0.', deviations);
  return (laps) => {
    let kept = laps;
    while (kept.length > 2) {
      const logs = kept.map((lap) => lap.log);
      const odd = furthest(kept);
      if (Math.abs(odd.log - mean(logs)) <= deviations * standardDeviation(logs)) break;
      kept = kept.filter(isNot(odd));
    }
    return kept;
  };
}

function furthest(laps: readonly DecidedLap[]): DecidedLap {
  const centre = mean(laps.map((lap) => lap.log));
  return laps.reduce((odd, lap) =>
    Math.abs(lap.log - centre) > Math.abs(odd.log - centre) ? lap : odd,
  );
}

const isNot = (odd: DecidedLap) => (lap: DecidedLap) => lap !== odd;

const atLeastTwo = (kept: readonly DecidedLap[], all: readonly DecidedLap[]) =>
  kept.length >= 2 ? kept : all;

/** Something that happens to a candidate run now and then, and that everybody at the bench sees. */
export interface Knock {
  /** Chance that it happens in a lap. */
  readonly probability: number;
  /** The candidate's reading changes by this fraction; negative: it reads low. */
  readonly change: number;
}

/**
 * The laps of series as somebody has them who may leave some out. With `knock`, now and then the
 * candidate's head is knocked, and a note says so.
 *
 * @param options.seed of the knocks
 */
export function decidedLaps(
  list: readonly Series[],
  options: { readonly knock?: Knock; readonly seed?: number } = {},
): readonly (readonly DecidedLap[])[] {
  const { knock } = options;
  const random = seededRandom(options.seed ?? 1);
  return list.map((series) =>
    lapPairs(series).map(({ reference, candidate }) => {
      const knocked = knock !== undefined && random.uniform() < knock.probability;
      const reading = candidate.reading_mW * (knocked ? 1 + knock.change : 1);
      return {
        log: Math.log(reference.reading_mW / reading),
        note: knocked ? 'head knocked' : null,
      };
    }),
  );
}

export interface NamedRule {
  readonly name: string;
  readonly rule: LeaveOutRule;
}

/** What each rule makes of the same series. */
export interface RuleCoverage {
  /** What kind of day it was. */
  readonly name: string;
  readonly rules: readonly (NamedRule & { readonly coverage: Coverage })[];
}

/**
 * How often does Student's interval hold the truth when laps are left out by a rule first?
 *
 * @param options.series the same laps for every rule
 * @throws argument-wrong without series
 */
export function ruleCoverage(options: {
  readonly name: string;
  readonly series: readonly (readonly DecidedLap[])[];
  readonly rules: readonly NamedRule[];
  readonly truth: number;
}): RuleCoverage {
  return {
    name: options.name,
    rules: options.rules.map((one) => ({
      ...one,
      coverage: coverageOf(
        options.series.map((laps) => lapEstimate(one.rule(laps).map((lap) => lap.log))),
        options.truth,
      ),
    })),
  };
}
