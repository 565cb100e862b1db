import { percent, significant } from '../findings/formatNumber.js';
import type { Exclusion, Run, Series } from '../vocabulary.js';
import { balancedExclusions } from './balanced.js';
import { afterFirstLap, type ColdStartTest, coldStartTest } from './coldStartTest.js';

/** Below this p value the first run is left out as a cold start. */
export const COLD_START_CERTAIN = 0.02;
/** Below this one it is kept, and the interval has to cover the answer with and without it. */
export const COLD_START_SUSPECTED = 0.2;
/** No more laps than this are taken for cold starts. */
const MOST_LAPS = 2;

export interface ColdStarts {
  readonly excluded: readonly Exclusion[];
  /** A first lap that looks cold, but not beyond doubt: its runs; empty for none. */
  readonly suspected: readonly Exclusion[];
  /** Degree of drift that the runs after an excluded lap showed; 0 when nothing was excluded. */
  readonly degree: number;
  /** Meter effects that a smooth drift in place of an excluded lap would give, where it may be one. */
  readonly rivalEffects: readonly number[];
}

/**
 * Leaves out first laps that the rest of the series contradicts: the first run, then (with its lap
 * gone) the next one, two laps at the most.
 *
 * @param series the series
 * @param kept its runs that were not left out for another reason, in order
 * @param rounding relative standard uncertainty of a run's display step
 */
export function coldStarts(
  series: Pick<Series, 'runs'>,
  kept: readonly Run[],
  rounding: (run: Run) => number,
): ColdStarts {
  const reasons = new Map<number, string>();
  let left = kept;
  const rivalEffects: number[] = [];
  let degree = 0;
  for (let lap = 0; lap < MOST_LAPS; lap++) {
    const test = mostTelling(left, rounding, MOST_LAPS - lap);
    if (test === null || test.p >= COLD_START_SUSPECTED) break;
    const side = test.deviation < 0 ? 'below' : 'above';
    const size = percent(Math.abs(test.deviation));
    const words = `first run reads ${size} ${side} what the later runs predict (p ${test.p < 0.0001 ? '< 0.0001' : `= ${significant(test.p, 1)}`})`;
    if (test.p >= COLD_START_CERTAIN) {
      const suspected = balancedExclusions(series, 'cold-start', new Map([[test.run.run, words]]));
      const excluded = balancedExclusions(series, 'cold-start', reasons);
      return { excluded, suspected, degree, rivalEffects };
    }
    reasons.set(test.run.run, words);
    if (test.rival.fit === 'possible') rivalEffects.push(test.rival.effect);
    degree = test.degree;
    left = afterFirstLap(left);
  }
  const excluded = balancedExclusions(series, 'cold-start', reasons);
  return { excluded, suspected: [], degree, rivalEffects };
}

/**
 * The test of the first run that counts; `null` where a smooth drift explains it. Two cold laps in a
 * row look smooth to a test that sets one aside, so then both are set aside.
 */
function mostTelling(
  runs: readonly Run[],
  rounding: (run: Run) => number,
  laps: number,
): ColdStartTest | null {
  if (runs[0] === undefined) return null;
  const one = coldStartTest(runs, rounding(runs[0]));
  if (one?.rival.fit !== 'better') return one;
  const two = laps < 2 ? null : coldStartTest(runs, rounding(runs[0]), 2);
  return two?.rival.fit === 'worse' && two.p < COLD_START_CERTAIN ? two : null;
}
