import { expect, test } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { parseStudy } from '../../src/record/parseStudy.js';
import {
  combineSeries,
  pooledBetweenSeries,
  type SeriesEstimate,
} from '../../src/series/combineSeries.js';

const series = (...logs: readonly number[]): SeriesEstimate[] =>
  logs.map((logFactor, i) => ({ id: String(i), logFactor, standardUncertainty: 0.002, dof: 12 }));
const type = (own: readonly SeriesEstimate[], groups: SeriesEstimate[][], stated: number | null) =>
  combineSeries(own, pooledBetweenSeries(groups, stated)).between.type;

// JCGM 100:2008, 2.3.2 and 2.3.3: A is the statistical analysis of a series of observations, B is
// everything else, however the number was once found.
test('the default alone and a stated spread are type B', () => {
  expect(type(series(0.1), [series(0.1)], null)).toBe('B');
  expect(type(series(0.1), [series(0.1)], 0.02)).toBe('B');
  expect(type(series(0.1, 0.101), [series(0.1, 0.101)], 0.02)).toBe('B');
});

test('the scatter of three series is type A, unless a stated spread stands for it', () => {
  expect(type(series(0.1, 0.11, 0.12), [], null)).toBe('A');
  expect(type(series(0.1, 0.11, 0.12), [], 0.02)).toBe('B');
  expect(type(series(0.1, 0.3, 0.12), [], 0.02)).toBe('A');
});

test('a spread pooled with the usual one is what brings more degrees of freedom', () => {
  const pairs = (count: number) => Array.from({ length: count }, () => series(0.1, 0.101));
  // One series beside repeated ones: the default counts as 8
  expect(type(series(0.1), pairs(8), null)).toBe('B');
  expect(type(series(0.1), pairs(9), null)).toBe('A');
  // Two series: the usual spread counts as 2
  expect(type(series(0.1, 0.101), pairs(1), null)).toBe('B');
  expect(type(series(0.1, 0.101), pairs(3), null)).toBe('A');
});

const answerOf = (count: number, stated: object) => {
  const noise = [1, -1, 2, 0, -2, 1, 0, 2];
  const rows = Array.from({ length: count }, (_, s) =>
    noise.map((e, i) => `s${s},green,${50 + e / 10 + s / 5},${45 + noise[7 - i] / 10}`),
  ).flat();
  const study = parseStudy(
    {
      reference: { name: 'Bench head', expanded_uncertainty_percent: 3 },
      candidate: { name: 'Drawer meter' },
      sources: [{ name: 'green', wavelength_nm: 520 }],
      ...stated,
    },
    { runs: ['series,source,reference_mW,candidate_mW', ...rows].join('\n') },
  );
  return analyse(study).wavelengths[0];
};

test('the budget of an analysis carries the type and says what it rests on', () => {
  const budgetOf = (count: number, stated: object) =>
    answerOf(count, stated).budget.find(({ name }) => name.startsWith('between'));
  expect(budgetOf(1, {})).toMatchObject({ type: 'B', note: expect.stringContaining('default') });
  expect(budgetOf(1, { between_series_percent: 2 })).toMatchObject({ type: 'B' });
  expect(budgetOf(2, {})).toMatchObject({
    type: 'B',
    note: expect.stringContaining('two series and the usual 1 %'),
  });
  expect(budgetOf(3, {})).toMatchObject({
    type: 'A',
    note: expect.stringContaining('scatter of 3'),
  });
});

test('the verdict says what so few series cannot show of the placement, until it is stated', () => {
  const whyOf = (count: number, stated: object) => answerOf(count, stated).why;
  expect(whyOf(1, {})).toContain('cannot be seen in one series');
  expect(whyOf(2, {})).toContain('Two series show only roughly');
  for (const [count, stated] of [
    [1, { between_series_percent: 1 }],
    [2, { between_series_percent: 1 }],
    [3, {}],
  ] as const) {
    expect(whyOf(count, stated)).not.toMatch(/one series|Two series/);
  }
});
