import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ordinaryLine } from '../../../src/power/lines/ordinaryLine.js';
import { passingBablokLine } from '../../../src/power/lines/passingBablokLine.js';
import { theilSenLine } from '../../../src/power/lines/theilSenLine.js';
import { seededRandom } from '../../../src/statistics/random.js';
import { near, nearly } from '../../near.js';
import { fromR, fromScipy, peakFlow } from './fixtures.js';

describe('against other programs', () => {
  test.each(Object.entries(fromScipy.sets))('Theil–Sen is that of scipy.stats: %s', (_, set) => {
    const line = theilSenLine(set, { interval: 'normal' });
    nearly(line.slope.value, set.theil_slope, 1e-12);
    nearly(line.intercept.value, set.theil_joint_intercept, 1e-11);
    nearly(line.slope.interval?.[0], set.theil_low, 1e-12);
    nearly(line.slope.interval?.[1], set.theil_high, 1e-12);
    const separate = theilSenLine(set, { intercept: 'separate' });
    nearly(separate.intercept.value, set.theil_separate_intercept, 1e-11);
  });

  test('Passing–Bablok is its definition written out in R (test/fixtures/lines.R)', () => {
    const [b, low, high, a, aLow, aHigh, shift] = fromR.passingBablok;
    const line = passingBablokLine(peakFlow);
    nearly(line.slope.value, b, 1e-13);
    nearly(line.slope.interval?.[0], low, 1e-13);
    nearly(line.slope.interval?.[1], high, 1e-13);
    nearly(line.intercept.value, a, 1e-12);
    nearly(line.intercept.interval?.[0], aLow, 1e-12);
    nearly(line.intercept.interval?.[1], aHigh, 1e-12);
    expect(line.shift).toBe(shift);
    expect(shift).toBeGreaterThan(0);
  });
});

describe('properties', () => {
  const cloud = (seed: number, n: number) => {
    const random = seededRandom(seed);
    const level = Array.from({ length: n }, () => 10 + 90 * random.uniform());
    return {
      x: level.map((value) => value + 4 * random.normal()),
      y: level.map((value) => 1.1 * value + 4 * random.normal()),
    };
  };

  test('exchanging x and y inverts the Passing–Bablok line when the slopes are odd in number', () => {
    // n = 11, 14, 15, 18: n(n−1)/2 is odd, so the median is one slope and not a mean of two
    for (const n of [11, 14, 15, 18]) {
      for (let seed = 0; seed < 20; seed++) {
        const points = cloud(seed, n);
        const line = passingBablokLine(points);
        const other = passingBablokLine({ x: points.y, y: points.x });
        nearly(other.slope.value, 1 / line.slope.value, 1e-12);
        nearly(other.slope.interval?.[0], 1 / (line.slope.interval?.[1] ?? 0), 1e-12);
        nearly(other.slope.interval?.[1], 1 / (line.slope.interval?.[0] ?? 0), 1e-12);
      }
    }
  });

  test('a slope of −1 is left out in every unit, though other units round its differences', () => {
    // From (3, 1) to (1, 3) and from (5, 8) to (7, 6) the slope is −1 exactly
    const whole = { x: [3, 1, 5, 7, 9, 12], y: [1, 3, 8, 6, 9, 13] };
    const plain = passingBablokLine(whole);
    for (const unit of [0.1, 1e-3, 1 / 3, 1e3]) {
      const scaled = (values: readonly number[]) => values.map((value) => value * unit);
      const line = passingBablokLine({ x: scaled(whole.x), y: scaled(whole.y) });
      expect([line.pairs, line.shift]).toEqual([plain.pairs, plain.shift]);
      nearly(line.slope.value, plain.slope.value, 1e-12);
    }
  });

  test('both follow a common change of unit; Theil–Sen follows one of x alone as well', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 100, noNaN: true }),
        fc.double({ min: 0.01, max: 100, noNaN: true }),
        (s, t) => {
          const points = cloud(5, 14);
          const scaled = (f: number, g: number) => ({
            x: points.x.map((value) => f * value),
            y: points.y.map((value) => g * value),
          });
          nearly(
            passingBablokLine(scaled(s, s)).slope.value,
            passingBablokLine(points).slope.value,
            1e-9,
          );
          nearly(
            theilSenLine(scaled(s, t)).slope.value,
            (theilSenLine(points).slope.value * t) / s,
            1e-9,
          );
        },
      ),
      { seed: 31, numRuns: 50 },
    );
  });

  test('one wild reading moves the ordinary line and neither of these', () => {
    const x = Array.from({ length: 15 }, (_, i) => 10 + 5 * i);
    const clean = x.map((value, i) => 1 + 1.2 * value + 0.3 * (i % 3));
    const wild = clean.map((value, i) => (i === 14 ? value + 500 : value));
    const moved = (line: typeof ordinaryLine | typeof theilSenLine | typeof passingBablokLine) =>
      Math.abs(line({ x, y: wild }).slope.value - line({ x, y: clean }).slope.value);
    expect(moved(ordinaryLine)).toBeGreaterThan(1);
    expect(moved(theilSenLine)).toBeLessThan(0.01);
    expect(moved(passingBablokLine)).toBeLessThan(0.01);
  });

  test('a perfect line is found exactly', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.2, max: 5, noNaN: true }),
        fc.double({ min: -20, max: 20, noNaN: true }),
        (slope, intercept) => {
          const x = [1, 3, 7, 20, 45, 60];
          const y = x.map((value) => intercept + slope * value);
          for (const line of [theilSenLine({ x, y }), passingBablokLine({ x, y })]) {
            nearly(line.slope.value, slope, 1e-11);
            near(line.intercept.value, intercept, 1e-10);
          }
        },
      ),
      { seed: 32 },
    );
  });

  test('the exact Theil–Sen interval holds at least its confidence, with heavy tails too', () => {
    // 2000 studies of 8 points, t with 2 degrees of freedom; exact confidence 0.9688, below it by no
    // more than four binomial standard errors
    const random = seededRandom(33);
    let hits = 0;
    let confidence = 0;
    for (let k = 0; k < 2000; k++) {
      const x = [1, 2, 4, 5, 7, 9, 12, 15];
      const line = theilSenLine({ x, y: x.map((value) => 2 * value + random.student(2)) });
      confidence = line.interval_confidence ?? 0;
      const [low, high] = line.slope.interval ?? [0, 0];
      if (low <= 2 && 2 <= high) hits++;
    }
    expect(confidence).toBeGreaterThanOrEqual(0.95);
    near(hits / 2000, confidence, 4 * Math.sqrt((confidence * (1 - confidence)) / 2000));
  });

  test('Passing–Bablok intervals hold about their 95 %', () => {
    // Large-sample interval: 1000 studies of 20 points; four binomial standard errors and 1 % more
    const random = seededRandom(34);
    let slope = 0;
    let intercept = 0;
    for (let k = 0; k < 1000; k++) {
      const level = Array.from({ length: 20 }, (_, i) => 10 + 4 * i);
      const line = passingBablokLine({
        x: level.map((value) => value + 2 * random.normal()),
        y: level.map((value) => 5 + 1.05 * value + 2 * random.normal()),
      });
      const [low, high] = line.slope.interval ?? [0, 0];
      const [aLow, aHigh] = line.intercept.interval ?? [0, 0];
      if (low <= 1.05 && 1.05 <= high) slope++;
      if (aLow <= 5 && 5 <= aHigh) intercept++;
    }
    near(slope / 1000, 0.95, 0.0376);
    near(intercept / 1000, 0.95, 0.0376);
  });

  test('the cusum check finds a strong bend and mostly passes a straight relation', () => {
    const random = seededRandom(35);
    const bent = Array.from({ length: 50 }, (_, i) => 5 + 2 * i);
    const curved = passingBablokLine({
      x: bent.map((value) => value + random.normal()),
      y: bent.map((value) => value - 0.003 * value ** 2 + random.normal()),
    });
    expect(curved.linearity.p).toBeLessThan(0.01);
    let rejected = 0;
    for (let k = 0; k < 400; k++) {
      const level = Array.from({ length: 40 }, (_, i) => 10 + 2 * i);
      const line = passingBablokLine({
        x: level.map((value) => value + 2 * random.normal()),
        y: level.map((value) => value + 2 * random.normal()),
      });
      if ((line.linearity.p ?? 1) < 0.05) rejected++;
    }
    // Nominal 5 %: about 3 % for 40 points (docs/methods/lines.md); four binomial standard errors
    expect(rejected / 400).toBeLessThan(0.094);
  });
});

describe('awkward input', () => {
  test('a falling relation is no Passing–Bablok line', () => {
    expect(() => passingBablokLine({ x: [1, 2, 3, 4], y: [8, 6, 4, 2] })).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });

  test('slopes of exactly −1 only leave nothing to take a median of', () => {
    expect(() => passingBablokLine({ x: [1, 2, 3], y: [3, 2, 1] })).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });

  test('upright and coinciding pairs are borne', () => {
    const line = passingBablokLine({
      x: [1, 1, 2, 3, 3, 4, 5, 6, 6, 7],
      y: [1, 1, 2, 3, 3.2, 4, 5.1, 6, 6.3, 7],
    });
    near(line.slope.value, 1, 0.05);
    // 45 pairs less one that coincides
    expect(line.pairs).toBe(44);
  });

  test('too few points give no interval and say so', () => {
    const three = theilSenLine({ x: [1, 2, 3], y: [1, 2.1, 2.9] });
    expect(three.slope.interval).toBeNull();
    expect(three.why).toMatch(/too few/);
    const bablok = passingBablokLine({ x: [1, 2, 3], y: [1, 2.1, 2.9] });
    expect(bablok.slope.interval).toBeNull();
    expect(bablok.why).toMatch(/do not bound/);
  });

  test('an exact interval with ties is refused', () => {
    expect(() => theilSenLine({ x: [1, 1, 2], y: [1, 2, 3] }, { interval: 'exact' })).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
    expect(theilSenLine({ x: [1, 1, 2, 3, 4, 5, 6], y: [1, 2, 3, 4, 5, 6, 7] }).interval_kind).toBe(
      'normal',
    );
  });
});

test('a Passing–Bablok interval at 80 % lies within that at 95 %', () => {
  const wide = passingBablokLine(peakFlow).slope.interval;
  const [low, high] = passingBablokLine(peakFlow, { confidence: 0.8 }).slope.interval!;
  expect(low).toBeGreaterThan(wide![0]);
  expect(high).toBeLessThan(wide![1]);
});
