import { expect, test } from 'vitest';
import { entriesOf } from '../../src/record/slips/entries.js';
import { seriesLevel } from '../../src/record/slips/wholeSeries.js';
import { near } from '../near.js';
import { runsOf, seriesOf } from '../series/runs.js';

test('the factor of a series is the median over its whole laps, with the error of their spread', () => {
  // ln reference 1, 2, 3, 4 and ln candidate 0.5, 1.6, 2.4, none: 0.5, 0.4 and 0.6 a lap
  const mended = [1, 0.5, 2, 1.6, 3, 2.4, 4, null];
  const series = seriesOf(runsOf('RCRCRCRC', () => 1));
  const found = seriesLevel(series, entriesOf(series), mended);
  near(found?.k, 0.5, 1e-12);
  // 1.4826 · the median of 0, 0, 0.1, 0.1; the error of a median is 1.25 s/√n
  near(found?.error, (1.25 * 1.4826 * 0.05) / Math.sqrt(3), 1e-12);
  near(found?.level.reference, 2.5, 1e-12);
  near(found?.level.candidate, 1.6, 1e-12);
});

test('without a whole lap it is that of the medians, and without one of the meters there is none', () => {
  const series = seriesOf(runsOf('RCRC', () => 1));
  const apart = seriesLevel(series, entriesOf(series), [1, null, null, 0.7]);
  near(apart?.k, 0.3, 1e-12);
  near(apart?.error, 0, 1e-12);
  expect(seriesLevel(series, entriesOf(series), [1, null, 2, null])).toBeNull();
  expect(seriesLevel({ ...series, kind: 'setting' }, entriesOf(series), [1, 1, 1, 1])).toBeNull();
});
