import { expect, test } from 'vitest';
import { betweenSeriesType } from '../../src/analysis/betweenSeriesType.js';
import {
  combineSeries,
  pooledBetweenSeries,
  type SeriesEstimate,
} from '../../src/correct/index.js';
import { analyse, parseStudy } from '../../src/index.js';

const series = (...logs: readonly number[]): SeriesEstimate[] =>
  logs.map((logFactor, i) => ({ id: String(i), logFactor, standardUncertainty: 0.002, dof: 12 }));
const type = (own: readonly SeriesEstimate[], groups: SeriesEstimate[][], stated: number | null) =>
  betweenSeriesType(combineSeries(own, pooledBetweenSeries(groups, stated))).type;

// JCGM 100:2008, 2.3.2 and 2.3.3: A is the statistical analysis of a series of observations, B is
// everything else, however the number was once found.
test('the default alone and a stated spread are type B', () => {
  expect(type(series(0.1), [series(0.1)], null)).toBe('B');
  expect(type(series(0.1), [series(0.1)], 0.02)).toBe('B');
  expect(type(series(0.1, 0.101), [series(0.1, 0.101)], 0.02)).toBe('B');
});

test('the scatter of three series, or of two that contradict each other, is type A', () => {
  expect(type(series(0.1, 0.11, 0.12), [], null)).toBe('A');
  expect(type(series(0.1, 0.11, 0.12), [], 0.02)).toBe('A');
  expect(type(series(0.1, 0.2), [series(0.1, 0.2)], null)).toBe('A');
});

test('a pooled spread is what brings more than the 8 degrees of freedom of the default', () => {
  const pairs = (count: number) => Array.from({ length: count }, () => series(0.1, 0.101));
  expect(type(series(0.1, 0.101), pairs(1), null)).toBe('B');
  expect(type(series(0.1, 0.101), pairs(8), null)).toBe('B');
  expect(type(series(0.1, 0.101), pairs(9), null)).toBe('A');
});

test('the budget of an analysis carries the type and says what it rests on', () => {
  const budgetOf = (count: number, stated: object) => {
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
    return analyse(study).wavelengths[0].budget.find(({ name }) => name.startsWith('between'));
  };
  expect(budgetOf(1, {})).toMatchObject({ type: 'B', note: expect.stringContaining('default') });
  expect(budgetOf(1, { between_series_percent: 2 })).toMatchObject({ type: 'B' });
  expect(budgetOf(2, {})).toMatchObject({
    type: 'B',
    note: expect.stringContaining('the default says more of it'),
  });
  expect(budgetOf(3, {})).toMatchObject({
    type: 'A',
    note: expect.stringContaining('scatter of 3'),
  });
});
