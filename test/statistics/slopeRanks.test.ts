import { describe, expect, test } from 'vitest';
import { passingBablokLine } from '../../src/power/lines/passingBablokLine.js';
import { theilSenLine } from '../../src/power/lines/theilSenLine.js';
import { seededRandom } from '../../src/statistics/random.js';
import { inversions, slopeRanks } from '../../src/statistics/slopeRanks.js';
import { near } from '../near.js';

/** Points about a line, in display steps: `step` 0 for none. */
function points(count: number, step: number, seed: number) {
  const random = seededRandom(seed);
  const shown = (value: number) => (step > 0 ? Math.round(value / step) * step : value);
  const level = Array.from({ length: count }, () => 10 + 20 * random.uniform());
  return {
    x: level.map((value) => shown(value + 0.3 * random.normal())),
    y: level.map((value) => shown(1.1 * value + 0.3 * random.normal())),
  };
}

const moved = ({ x, y }: ReturnType<typeof points>, by: number) => ({
  x: x.map((value) => value + by),
  y: y.map((value) => value + by),
});

/** All slopes, the smallest first. */
function allSlopes(x: readonly number[], y: readonly number[]): number[] {
  const slopes: number[] = [];
  x.forEach((_, i) => {
    for (let j = i + 1; j < x.length; j++) {
      if (x[i] !== x[j]) slopes.push((y[j]! - y[i]!) / (x[j]! - x[i]!));
    }
  });
  return slopes.sort((a, b) => a - b);
}

describe('slopes by rank are those of the whole sorted list', () => {
  // From 300 points on the list is no longer written out (20 000 pairs and one a point).
  test.each([
    [5, 0],
    [40, 1],
    [300, 0],
    [400, 0.01],
    [500, 1],
  ])('%i points in steps of %d', (count, step) => {
    const { x, y } = points(count, step, count);
    const all = allSlopes(x, y);
    const ranked = slopeRanks(x, y);
    expect(ranked.total).toBe(all.length);
    for (const part of [0, 0.025, 0.5, 0.61, 1]) {
      const rank = 1 + Math.floor(part * (all.length - 1));
      const [a, b] = ranked.at(rank);
      expect((y[b]! - y[a]!) / (x[b]! - x[a]!)).toBe(all[rank - 1]);
    }
  });

  test('the median of Theil and Sen, and the count below −1 of Passing and Bablok', () => {
    const { x, y } = points(400, 0.01, 7);
    const all = allSlopes(x, y);
    const half = all.length / 2;
    const median =
      all.length % 2 === 1 ? all[Math.floor(half)]! : (all[half - 1]! + all[half]!) / 2;
    expect(theilSenLine({ x, y }).slope.value).toBe(median);
    let shift = 0;
    for (let i = 0; i < x.length; i++) {
      for (let j = i + 1; j < x.length; j++) {
        const [dx, dy] = [x[j]! - x[i]!, y[j]! - y[i]!];
        if (dx !== 0 && Math.abs(dx + dy) > 1e-8 && dy / dx < -1) shift++;
      }
    }
    expect(passingBablokLine({ x, y }).shift).toBe(shift);
  });
});

test.each([
  ['no two alike', 1, points(100, 0, 1)],
  ['in steps', 61, points(120, 1, 2)],
  ['in steps about zero', 61, moved(points(120, 1, 10), -20)],
  ['in steps below zero', 61, moved(points(120, 1, 11), -60)],
  ['in fine steps', 7, points(110, 0.05, 3)],
  ['falling', 1, (({ x, y }) => ({ x, y: y.map((value) => -value) }))(points(100, 0, 4))],
  ['two levels of x', 1, (({ y }) => ({ x: y.map((_, i) => i % 2), y }))(points(140, 0, 5))],
  ['all on a line', 61, (({ x }) => ({ x, y: x.map((one) => 2 * one) }))(points(100, 1, 6))],
  ['all on a level', 61, { x: points(100, 0, 6).x, y: new Array<number>(100).fill(5) }],
  ['all at zero', 61, { x: points(100, 0, 6).x, y: new Array<number>(100).fill(0) }],
  ['one far away', 7, (({ x, y }) => ({ x, y: y.with(50, 1e9) }))(points(100, 0.25, 7))],
  ['two points', 1, { x: [3, 1], y: [1, 2] }],
])('%s: each rank, one in %i, in three orders', (_, every, { x, y }) => {
  const all = allSlopes(x, y);
  const upwards = all.map((_, i) => i + 1).filter((rank) => rank % every === 0);
  // 7919 is prime and no count of ranks here divides by it: each comes once.
  const mixed = upwards.map((_, i) => upwards[(i * 7919) % upwards.length]!);
  for (const ranks of [upwards, upwards.toReversed(), mixed]) {
    const ranked = slopeRanks(x, y);
    expect(ranked.total).toBe(all.length);
    const off = ranks.map((rank) => {
      const [a, b] = ranked.at(rank);
      return Math.abs((y[b]! - y[a]!) / (x[b]! - x[a]!) - all[rank - 1]!);
    });
    // Slopes of tenths that are equal on paper differ by rounding.
    expect(off.findIndex((one) => !(one <= (every === 7 ? 1e-13 : 0)))).toBe(-1);
  }
});

// Thousands of pairs have a slope of 1, and a rank near their end lies among the draws of that slope alone.
test.each([
  [150, 1],
  [300, 2],
  [400, 0.5],
])('%i readings in steps of %d: a rank asked for alone', (count, step) => {
  const { x, y } = points(count, step, 8);
  const all = allSlopes(x, y);
  for (let rank = 7; rank <= all.length; rank += Math.ceil(all.length / 40)) {
    const [a, b] = slopeRanks(x, y).at(rank);
    near((y[b]! - y[a]!) / (x[b]! - x[a]!), all[rank - 1]!, 0);
  }
});

test.each([0, 1, 2])('%i points with the same x have no slope', (count) => {
  expect(slopeRanks(new Array(count).fill(1), new Array(count).fill(2)).total + 0).toBe(0);
});

test.each([
  [[], 0],
  [[1], 0],
  [[2, 1], 1],
  [[1, 1], 0],
  [[3, 2, 1], 3],
  [[2, 3, 1], 2],
  // 5 > 1, 4, 3, 2; 4 > 3, 2; 3 > 2
  [[5, 1, 4, 3, 2], 7],
  [[2, 2, 1, 1, 0], 8],
])('inversions of %j', (values, count) => {
  const found = inversions(Float64Array.from(values));
  expect(found.count).toBe(count);
  expect([...found.sorted]).toEqual(values.toSorted((a, b) => a - b));
});

/** Countings of all points, and places drawn, while `run` runs: what the time is made of. */
function workOf(run: () => void) {
  const typed = Object.getPrototypeOf(Float64Array.prototype);
  const kept = { map: typed.map, floor: Math.floor };
  const work = { countings: 0, places: 0 };
  typed.map = function (...args: unknown[]) {
    work.countings++;
    return kept.map.apply(this, args);
  };
  Math.floor = (value) => {
    work.places++;
    return kept.floor(value);
  };
  try {
    run();
  } finally {
    typed.map = kept.map;
    Math.floor = kept.floor;
  }
  return work;
}

describe('the work for one of fifty million slopes', () => {
  const { x, y } = points(10_000, 0, 9);

  // Two bounds of a draw of 400 leave 2(3·√(400/4) + 1)/400 = 15.5 % at most: three draws narrow 100 % to
  // 0.4 %, at 800 places the first and 6.5 times as many each next, 800·(1 + 6.5 + 42) = 40 000. Two bounds
  // where slopes lie evenly leave 4 %, twice that is less than the 7000 to be written out: 10 countings and
  // those of the last order, and a margin.
  test.each([0.3, 0.5, 0.7])('the %d quantile', (part) => {
    const ranked = slopeRanks(x, y);
    const rank = Math.round(part * ranked.total);
    const first = workOf(() => ranked.at(rank));
    expect(first.countings).toBeLessThanOrEqual(13);
    expect(first.places).toBeLessThanOrEqual(50_000);
    expect(workOf(() => ranked.at(rank))).toEqual({ countings: 0, places: 0 });
    // Bounds once found serve a rank near by.
    const beside = workOf(() => ranked.at(rank + 20_000));
    expect(beside.countings).toBeLessThanOrEqual(7);
    expect(beside.places).toBe(0);
  });

  test('the smallest slope: there is no place between two bounds where one is infinite', () => {
    // One draw, and the order at its bound
    expect(workOf(() => slopeRanks(x, y).at(1)).countings).toBeLessThanOrEqual(4);
  });
});
