import { describe, expect, test } from 'vitest';
import { passingBablokLine } from '../../src/power/lines/passingBablokLine.js';
import { theilSenLine } from '../../src/power/lines/theilSenLine.js';
import { seededRandom } from '../../src/statistics/random.js';
import { slopeRanks } from '../../src/statistics/slopeRanks.js';

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
