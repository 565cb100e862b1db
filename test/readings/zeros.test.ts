import { describe, expect, test } from 'vitest';
import { zeroed } from '../../src/readings/zeros.js';
import type { Study } from '../../src/vocabulary.js';
import { near } from '../near.js';
import { steady, studyOf } from '../seriesStudy.js';

const plain = studyOf([
  { id: 'a', nm: 638, laps: steady(100, 50, 4) },
  { id: 'b', nm: 450, laps: steady(100, 50, 4) },
]);
/** Zeros of the candidate in the series, run by run; the reference has 0 everywhere. */
const withZeros = (a: readonly (number | null)[], b: readonly (number | null)[] = []): Study => ({
  ...plain,
  series: plain.series.map((series, s) => {
    const zeros = [...(s === 0 ? a : b)];
    return {
      ...series,
      runs: series.runs.map((run) => ({
        ...run,
        peak_mW: 60,
        zero_mW: run.meter === 'reference' ? 0 : (zeros.shift() ?? null),
      })),
    };
  }),
});
const candidateRuns = (study: Study, series = 0) =>
  study.series[series].runs.filter((run) => run.meter === 'candidate');

describe('zeros in half of the rows: 0.4 and 0.8 of four', () => {
  const { study, states, warnings } = zeroed(withZeros([0.4, null, 0.8, null]));

  test('the others get their mean, off reading and peak', () => {
    const runs = candidateRuns(study);
    expect(runs.map(({ reading_mW }) => reading_mW)).toEqual([50, 49.4, 50, 49.4]);
    near(runs[1].zero_mW, 0.6, 1e-12);
    near(runs[1].peak_mW, 59.4, 1e-12);
    expect([runs[0].zero_mW, runs[0].peak_mW]).toEqual([0.4, 60]);
  });

  test('what that leaves open: the farthest of them and of 0, times the part without', () => {
    // |0 − 0.6| = 0.6 is farther than |0.8 − 0.6|; half of the runs lack it
    expect(states.get('a')?.candidate.recorded).toBe(0.5);
    near(states.get('a')?.candidate.open_mW, 0.3, 1e-12);
    expect(states.get('a')?.reference).toEqual({ recorded: 1, open_mW: 0 });
  });

  test('a series without any: as far as the meter shows elsewhere, and nothing is taken off', () => {
    expect(states.get('b')?.candidate).toEqual({ recorded: 0, open_mW: 0.8 });
    expect(candidateRuns(study, 1).map(({ reading_mW }) => reading_mW)).toEqual([50, 50, 50, 50]);
  });

  test('it is said, with the largest zero in percent of a reading', () => {
    expect(warnings).toHaveLength(1);
    expect(warnings[0]).toMatchObject({ code: 'zero-in-some-rows', series: 'a' });
    expect(warnings[0].message).toContain(
      'of the candidate in 2 of 4 runs (up to 1.6 % of a reading)',
    );
  });
});

test('a series that has zeros goes by its own, whatever the meter showed elsewhere', () => {
  const { states } = zeroed(withZeros([0.4, null, 0.8, null], [5, 5, 5, 5]));
  near(states.get('a')?.candidate.open_mW, 0.3, 1e-12);
});

test('of readings that are all 0, a zero is no percentage', () => {
  const study = withZeros([0.4, null, 0.8, null]);
  const dark = study.series.map((one) => ({
    ...one,
    runs: one.runs.map((run) => ({ ...run, reading_mW: 0 })),
  }));
  expect(zeroed({ ...study, series: dark }).warnings[0].message).toContain('(up to 0 % of');
});

test('a negative zero counts by its size', () => {
  const { states, warnings } = zeroed(withZeros([-0.9, null, -0.3, null]));
  near(states.get('a')?.candidate.open_mW, 0.3, 1e-12);
  near(states.get('b')?.candidate.open_mW, 0.9, 1e-12);
  expect(warnings[0].message).toContain('up to 1.8 %');
});

test('a peak that nobody wrote down stays none', () => {
  const study = withZeros([0.4, null, 0.8, null]);
  const series = study.series.map((one) => ({
    ...one,
    runs: one.runs.map((run) => ({ ...run, peak_mW: null })),
  }));
  const [, filled] = candidateRuns(zeroed({ ...study, series }).study);
  near(filled.reading_mW, 49.4, 1e-12);
  expect(filled.peak_mW).toBeNull();
});

test('a meter without a run in a series: no zero is recorded, as much open as elsewhere', () => {
  const study = withZeros([0.4, -0.8, 0.1, 0]);
  const series = study.series.map((one, s) => ({
    ...one,
    runs: one.runs.filter((run) => s === 0 || run.meter === 'reference'),
  }));
  const { states, warnings } = zeroed({ ...study, series });
  expect(states.get('b')).toEqual({
    reference: { recorded: 1, open_mW: 0 },
    candidate: { recorded: 0, open_mW: 0.8 },
  });
  expect(warnings).toEqual([]);
});

test('the zeros of one meter say nothing of the other', () => {
  const study = withZeros([]);
  const series = study.series.map((one) => ({
    ...one,
    runs: one.runs.map((run, i) =>
      run.meter === 'reference' ? { ...run, zero_mW: i < 2 ? 3 : null } : run,
    ),
  }));
  const found = zeroed({ ...study, series });
  expect(found.states.get('a')?.candidate).toEqual({ recorded: 0, open_mW: null });
  expect(candidateRuns(found.study).map(({ zero_mW }) => zero_mW)).toEqual(Array(4).fill(null));
  expect(found.warnings.map((one) => one.series)).toEqual(['a', 'b']);
  // 3 of 100 mW
  expect(found.warnings[0].message).toContain('a zero of the reference in');
  expect(found.warnings[0].message).toContain('(up to 3 % of a reading)');
});

test('a zero above the reading itself cannot be its own', () => {
  const readings = (zero: number) =>
    candidateRuns(zeroed(withZeros([zero, null, zero, null])).study).map(
      ({ reading_mW }) => reading_mW,
    );
  expect([readings(60), readings(50), readings(49)]).toEqual([
    [50, 50, 50, 50],
    [50, 50, 50, 50],
    [50, 1, 50, 1],
  ]);
});

test('a zero in every row leaves nothing open, and in none nobody knows', () => {
  const { states, warnings, study } = zeroed(withZeros([1, 2, 3, 4]));
  expect(states.get('a')?.candidate).toEqual({ recorded: 1, open_mW: 0 });
  expect(candidateRuns(study).map(({ reading_mW }) => reading_mW)).toEqual([50, 50, 50, 50]);
  expect(warnings).toEqual([]);
  expect(zeroed(withZeros([])).states.get('a')?.candidate).toEqual({ recorded: 0, open_mW: null });
});
