import type { PlotData } from 'plotly.js';
import { describe, expect, test } from 'vitest';
import type { Figure } from '../../../src/notebook/index.js';
import { coverageByLaps } from '../../../src/notebook/lessons/counts.js';
import { lapEstimate, lapLogs } from '../../../src/notebook/lessons/estimates.js';
import { coverageFigure } from '../../../src/notebook/lessons/figures/coverageFigure.js';
import { errorsFigure } from '../../../src/notebook/lessons/figures/errorsFigure.js';
import { intervalsFigure } from '../../../src/notebook/lessons/figures/intervalsFigure.js';
import { metersFigure } from '../../../src/notebook/lessons/figures/metersFigure.js';
import { ordersFigure } from '../../../src/notebook/lessons/figures/ordersFigure.js';
import {
  partAfter,
  partsFigure,
  togetherAfter,
} from '../../../src/notebook/lessons/figures/partsFigure.js';
import { rangeFigure } from '../../../src/notebook/lessons/figures/rangeFigure.js';
import { rulesFigure } from '../../../src/notebook/lessons/figures/rulesFigure.js';
import {
  runningErrors,
  runningMeansFigure,
} from '../../../src/notebook/lessons/figures/runningMeansFigure.js';
import {
  decidedLaps,
  keepAll,
  ruleCoverage,
  withoutFurthest,
} from '../../../src/notebook/lessons/leaveOut.js';
import { pairsOverRange, rangeStudy } from '../../../src/notebook/lessons/pairs.js';
import { repeatSeries } from '../../../src/notebook/lessons/repeat.js';

const HOSTILE = '<script>alert(1)</script>';
const noise = { reference: 0.004, candidate: 0.006 };
const bench = { laps: 6, level_mW: 50, factor: 1.1, noise };
const list = repeatSeries({ bench, times: 30, seed: 1 });
const estimates = list.map((series) => lapEstimate(lapLogs(series)));
const far = estimates.map(({ value, low, high }) => ({
  value: 1.2 * value,
  low: 1.2 * low,
  high: 1.2 * high,
}));
const ways = [
  { name: 'one', estimates },
  { name: 'other', estimates: far },
];
const estimate = (logs: readonly number[]) => lapEstimate(logs);
const lines = coverageByLaps({
  laps: [3, 6],
  series: (laps) => repeatSeries({ bench: { ...bench, laps }, times: 20, seed: laps }),
  ways: [
    { name: 'one', estimate },
    { name: 'other', estimate },
  ],
  truth: 1.1,
});
const parts = [
  { name: 'laps', u: 0.02, averages: true },
  { name: HOSTILE, u: 0.01, averages: false },
];
const meters = { factor: 1.1, noise };
const plan = { meters, sources: 8, seed: 1 };
const pairs = pairsOverRange({ ...plan, range_mW: [5, 300] });
const rules = [
  { name: 'nothing', rule: keepAll },
  { name: 'the furthest', rule: withoutFurthest(1) },
];
const day = { series: decidedLaps(list), rules, truth: 1.1 };
const figures: Readonly<Record<string, Figure>> = {
  orders: ordersFigure({ laps: 4, source: { drift: { linear_per_run: -0.01 } } }, [
    'reference-first',
    'ABBA',
  ]),
  errors: errorsFigure([{ name: 'ABBA', ways }], 1.1),
  intervals: intervalsFigure([...estimates, ...far], 1.1),
  allMiss: intervalsFigure(far, 1.1),
  coverage: coverageFigure(lines),
  meters: metersFigure([
    { name: 'one', pairs },
    { name: 'other', pairs },
  ]),
  range: rangeFigure([rangeStudy({ ...plan, range_mW: [48, 52] }, { times: 5 })]),
  running: runningMeansFigure(list, { truth: 1.1, staying: 0.01 }),
  parts: partsFigure(parts),
  rules: rulesFigure([
    ruleCoverage({ ...day, name: 'one' }),
    ruleCoverage({ ...day, name: 'other' }),
  ]),
};
const leaves = (value: unknown): readonly unknown[] =>
  typeof value === 'object' && value !== null ? Object.values(value).flatMap(leaves) : [value];
const data = (name: string) => figures[name]?.data as readonly Partial<PlotData>[];

describe('the figures of the lessons', () => {
  test('hold no number that is not finite and nothing undefined', () => {
    for (const figure of Object.values(figures)) {
      const all = leaves([figure.data, figure.layout]);
      expect(all.length).toBeGreaterThan(40);
      expect(
        all.filter(
          (one) => one === undefined || (typeof one === 'number' && !Number.isFinite(one)),
        ),
      ).toEqual([]);
    }
  });

  test('have words for those who cannot see them, and no markup', () => {
    for (const figure of Object.values(figures)) {
      expect(figure.alt.length).toBeGreaterThan(25);
      expect(figure.alt).not.toMatch(/NaN|null|undefined|Infinity/);
      expect(JSON.stringify([figure.data, figure.layout])).not.toContain('<script');
    }
  });

  test('tell what belongs apart by marker shape and not by colour alone', () => {
    for (const name of ['errors', 'intervals', 'coverage', 'range', 'parts', 'rules']) {
      const symbols = data(name).map((trace) => trace.marker?.symbol);
      expect(symbols.length).toBeGreaterThan(1);
      expect(new Set(symbols).size).toBe(symbols.length);
    }
    const [first, , second] = data('meters').map((trace) => trace.marker?.symbol);
    expect(first).not.toBe(second);
  });
});

test('the intervals are parted into those that hold the truth and those that do not', () => {
  const [good, bad] = data('intervals');
  const held = estimates.filter(({ low, high }) => low <= 1.1 && 1.1 <= high).length;
  expect(good?.x).toHaveLength(held);
  expect(bad?.x).toHaveLength(2 * estimates.length - held);
  expect(data('allMiss')[0]?.name).toBe('holds the truth: 0 of 30');
});

test('the gap between the lines of an order is what it leaves of the drift', () => {
  const [, reference, , candidate] = data('orders');
  const [a, b] = [Number(reference?.y?.[0]), Number(candidate?.y?.[0])];
  // One run of drift is 1 %, and the reference gets the stronger light.
  expect(Math.abs(a - b - 1)).toBeLessThan(0.005);
  expect(figures.orders?.alt).toContain('reference-first, the candidate gets 1 % less');
});

test('running means end at the mean of all laps', () => {
  const [series] = list;
  const errors = runningErrors(series!, 1.1);
  expect(errors).toHaveLength(6);
  expect(errors[5]).toBeCloseTo(100 * ((estimates[0]?.value ?? 0) / 1.1 - 1), 9);
  expect(data('running')).toHaveLength(30);
});

test('of the parts, laps halve at four times the laps, and all together add as squares', () => {
  expect(parts.map((part) => partAfter(part, 4))).toEqual([0.01, 0.01]);
  expect(togetherAfter(parts, 4)).toBeCloseTo(0.01 * Math.SQRT2, 12);
});
