import { describe, expect, test } from 'vitest';
import {
  runOf,
  tracesOfKeptRuns,
  withTracedPeaks,
  zeroedTraces,
} from '../../src/readings/traces.js';
import type { Run, Study } from '../../src/vocabulary.js';
import { steady, studyOf } from '../seriesStudy.js';

const plain = studyOf([{ id: 'a', nm: 638, laps: steady(90, 45, 3) }]);
const trace = (run: number, reading_mW: readonly number[], series = 'a') => ({
  series,
  run,
  meter: 'reference' as const,
  elapsed_s: reading_mW.map((_, i) => i),
  reading_mW,
});
const made = (
  traces: Study['traces'],
  changes: Readonly<Record<number, Partial<Run>>> = {},
): Study => ({
  ...plain,
  traces,
  series: plain.series.map((series) => ({
    ...series,
    runs: series.runs.map((run) => ({ ...run, ...changes[run.run] })),
  })),
});

test('the run of a trace: that of its number in its series', () => {
  const study = { ...plain, series: [{ ...plain.series[0], id: 'b', runs: [] }, ...plain.series] };
  expect(runOf(study, trace(4, []))).toBe(plain.series[0].runs[3]);
  expect(runOf(study, trace(7, []))).toBeUndefined();
  expect(runOf(study, trace(4, [], 'b'))).toBeUndefined();
  expect(runOf(study, trace(4, [], 'c'))).toBeUndefined();
});

test('a trace less the zero of its own run', () => {
  const study = made([trace(1, [1, 5]), trace(2, [1, 5])], { 1: { zero_mW: 0.5 } });
  expect(zeroedTraces(study).map(({ reading_mW }) => reading_mW)).toEqual([
    [0.5, 4.5],
    [1, 5],
  ]);
});

describe('traces that tell of a sensor', () => {
  test('are not those of runs left out, or of laps discarded as warm-up', () => {
    const study = made([trace(1, [1]), trace(3, [1]), trace(5, [1])], {
      5: { exclude: 'a cloud' },
    });
    const protocol = { ...study.protocol, discard_first_laps: 1 };
    expect(tracesOfKeptRuns(study).map(({ run }) => run)).toEqual([1, 3]);
    expect(tracesOfKeptRuns({ ...study, protocol }).map(({ run }) => run)).toEqual([3]);
  });

  test('those of runs without a lap, or that nobody knows, stay', () => {
    const study = made([trace(1, [1]), trace(9, [1]), trace(2, [1], 'b')], { 1: { lap: null } });
    const protocol = { ...study.protocol, discard_first_laps: 1 };
    expect(tracesOfKeptRuns({ ...study, protocol })).toEqual(study.traces);
  });
});

describe('the highest reading of a trace', () => {
  const peaks = (study: Study) =>
    withTracedPeaks(study).series[0].runs.map(({ peak_mW }) => peak_mW);

  test('is a peak of its run, where that has none or a lower one', () => {
    const study = made([trace(1, [1, 99, 5]), trace(2, [50]), trace(3, [50])], {
      2: { peak_mW: 60 },
      3: { peak_mW: 40 },
    });
    expect(peaks(study)).toEqual([99, 60, 50, null, null, null]);
  });

  test('counts where all of it is below zero too, and where there is no trace nothing changes', () => {
    expect(peaks(made([trace(1, [-3, -1, -2])]))).toEqual([-1, ...Array(5).fill(null)]);
    expect(withTracedPeaks(plain)).toEqual(plain);
  });

  test('an empty trace, or one of another series, adds none', () => {
    expect(peaks(made([trace(1, []), trace(2, [50], 'b')]))).toEqual(Array(6).fill(null));
  });
});
