import { expect, test } from 'vitest';
import { keptLaps, lapPairs } from '../../src/series/lapPairs.js';
import { steady, studyOf } from '../seriesStudy.js';

const [series] = studyOf([{ id: 'a', nm: 638, laps: steady(100, 90, 3) }]).series;
const laps = (list: readonly { readonly lap: number }[]) => list.map(({ lap }) => lap);

test('a lap is complete with a run of each meter, and only then', () => {
  expect(laps(lapPairs(series))).toEqual([1, 2, 3]);
  for (const meter of ['reference', 'candidate'] as const) {
    const runs = series.runs.filter((run) => run.lap !== 2 || run.meter !== meter);
    expect(laps(lapPairs({ runs }))).toEqual([1, 3]);
  }
  const loose = series.runs.map((run) => (run.lap === 3 ? { ...run, lap: null } : run));
  expect(laps(lapPairs({ runs: loose }))).toEqual([1, 2]);
});

test('a lap of which either run is left out is not kept', () => {
  for (const run of series.runs.filter((one) => one.lap === 2)) {
    expect(laps(keptLaps(series, [{ run: run.run }]))).toEqual([1, 3]);
  }
});
