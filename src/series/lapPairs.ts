import type { Exclusion, LapPair, Run, Series } from '../vocabulary.js';
import { runsWithout } from './balanced.js';

/** Complete laps of a series, in order: one reference and one candidate run next to each other. */
export function lapPairs(series: Pick<Series, 'runs'>): LapPair[] {
  const halves = new Map<number, { reference?: Run; candidate?: Run }>();
  for (const run of series.runs) {
    if (run.lap === null) continue;
    const half = halves.get(run.lap) ?? {};
    half[run.meter] = run;
    halves.set(run.lap, half);
  }
  const pairs: LapPair[] = [];
  for (const [lap, { reference, candidate }] of halves) {
    if (reference !== undefined && candidate !== undefined)
      pairs.push({ lap, reference, candidate });
  }
  return pairs;
}

/** Laps none of whose runs was left out. */
export const keptLaps = (
  series: Pick<Series, 'runs'>,
  excluded: readonly Pick<Exclusion, 'run'>[],
): LapPair[] => lapPairs({ runs: runsWithout(series, excluded) });
