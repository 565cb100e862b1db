import { fileURLToPath } from 'node:url';
import type { DataFrame } from 'danfojs';
import { beforeAll, describe, expect, test, vi } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { frameOf, frameRows, toFrame } from '../../src/notebook/frames.js';
import { readStudy } from '../../src/record/readStudy.js';
import { KNOWN_EXACTLY, type Result, type Study } from '../../src/vocabulary.js';

// The library behind the frames takes its time to load on a busy machine.
vi.setConfig({ testTimeout: 60_000, hookTimeout: 60_000 });

let from: { readonly study: Study; readonly result: Result };

beforeAll(async () => {
  const folder = new URL('../../data-demo/1-workshop-evening', import.meta.url);
  const study = await readStudy(fileURLToPath(folder));
  from = { study, result: analyse(study) };
});

const valuesOf = (frame: DataFrame, column: string) =>
  frame.column(column).values as readonly (string | number)[];

test('records of your own are described, their numbers as in every other table', async () => {
  const frame = await frameOf([
    { lap: 1, difference: 2 },
    { lap: 2, difference: 4 },
    { lap: 3, difference: 9 },
  ]);
  expect(frame.columns).toEqual(['lap', 'difference']);
  expect(frameRows(frame)[1]).toEqual({ lap: '2', difference: '4' });
  const described = frameRows(frame.describe());
  // 2, 4, 9 by hand: mean 5, sd = sqrt((9 + 1 + 16) / 2) = 3.606, median 4.
  const named = (name: string) => described.find((row) => row[''] === name)?.difference;
  expect([named('mean'), named('std'), named('median')]).toEqual(['5', '3.606', '4']);
});

test('relative quantities are in percent, degrees of freedom cut, what is no number a dash', async () => {
  const frame = await frameOf([
    { share: 0.0123, order_bias_percent: -0.0499, dof: 8.97, factor: 1.1, level_mW: 70.1234 },
    { share: 1, order_bias_percent: Number.NaN, dof: KNOWN_EXACTLY, factor: 1, level_mW: 1 },
  ]);
  expect(frameRows(frame)).toEqual([
    {
      'share / %': '1.2',
      order_bias_percent: '−0.050',
      dof: '8.9',
      factor: '1.100',
      level_mW: '70.12',
    },
    { 'share / %': '100', order_bias_percent: '—', dof: '∞', factor: '1.000', level_mW: '1' },
  ]);
});

describe('a study as frames', () => {
  test('has every run, and says which of them count', async () => {
    const runs = await toFrame('runs', from);
    const all = from.study.series.flatMap((one) => one.runs);
    expect(valuesOf(runs, 'reading_mW')).toEqual(all.map((one) => one.reading_mW));
    const left = from.result.series.flatMap(({ id, excluded }) =>
      excluded.map(({ run }) => `${id} ${run}`),
    );
    expect(left.length).toBeGreaterThan(0);
    const places = valuesOf(runs, 'series').map((id, i) => `${id} ${valuesOf(runs, 'run')[i]}`);
    expect(places.filter((_, i) => valuesOf(runs, 'kept')[i] === 'no')).toEqual(left);
  });

  test('leaves out a column with a gap, which grouping would take for a zero', async () => {
    const gap = await frameOf([
      { of: 'a', peak: 1 },
      { of: 'a', peak: null },
      { of: 'a', peak: 3 },
    ]);
    // The mean of 1 and 3 is 2; the library says 4/3. If it ever says 2, the columns may come back.
    const [mean] = gap.groupby(['of']).agg({ peak: 'mean' }).column('peak_mean').values;
    expect(mean).toBeCloseTo(4 / 3, 6);
    const series = from.study.series.map((one, i) => ({
      ...one,
      runs: one.runs.map((run) => ({ ...run, peak_mW: i === 0 ? null : 1, zero_mW: 0 })),
    }));
    const runs = await toFrame('runs', { ...from, study: { ...from.study, series } });
    expect(runs.columns).toContain('zero_mW');
    expect(runs.columns).not.toContain('peak_mW');
  });

  test('has the series with a factor, the factors by level and the budget line by line', async () => {
    const { result } = from;
    const series = await toFrame('series', from);
    const known = result.series.filter((one) => one.factor.value !== null);
    expect(valuesOf(series, 'factor')).toEqual(known.map((one) => one.factor.value));
    const factors = await toFrame('factors', from);
    const levels = result.wavelengths.flatMap((one) => one.levels);
    expect(valuesOf(factors, 'factor')).toEqual(levels.map((one) => one.factor));
    const budget = await toFrame('budget', from);
    const lines = result.wavelengths.flatMap((one) => one.budget);
    expect(valuesOf(budget, 'share')).toEqual(lines.map((one) => one.share));
  });

  test('is filtered and grouped: the parts of each budget add up to its variance', async () => {
    const budget = await toFrame('budget', from);
    const sums = budget.groupby(['wavelength_nm']).agg({ share: 'sum' });
    const budgets = from.result.wavelengths.filter((one) => one.budget.length > 0);
    expect(frameRows(sums)).toEqual(
      budgets.map((one) => ({
        wavelength_nm: String(one.wavelength_nm),
        'share_sum / %': '100',
      })),
    );
    const scatter = budget.query(budget.type.eq('A'));
    expect(valuesOf(scatter, 'kind')).toContain('repeatability');
    expect(valuesOf(scatter, 'kind')).not.toContain('calibration');
  });
});
