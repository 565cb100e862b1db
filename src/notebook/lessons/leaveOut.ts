/** Ways to leave laps out of a mean: honest ones, and those that people use. */
import { argumentWrong } from '../../error.js';
import { mean, standardDeviation } from '../../statistics/summary.js';

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
