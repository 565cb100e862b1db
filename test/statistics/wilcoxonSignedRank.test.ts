import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { midranks } from '../../src/statistics/ranks.js';
import { wilcoxonSignedRank } from '../../src/statistics/wilcoxonSignedRank.js';
import { near, nearly } from '../near.js';
import { errorOf } from '../record/support.js';

// Expected values: R 4.2.2, Rscript test/fixtures/agree.R (numbers in test/fixtures/agree.txt).
describe('agrees with R', () => {
  test('twelve values without ties, 90 % interval', () => {
    const values = [-1.3, 2.1, 0.4, 3.7, -0.2, 1.1, 2.9, -2.4, 4.6, 0.9, 1.7, 5.2];
    const found = wilcoxonSignedRank(values, { confidence: 0.9 });
    expect(found.statistic).toBe(64);
    near(found.p, 0.05224609375, 1e-14);
    near(found.estimate, 1.55, 1e-12);
    near(found.low, 0.35, 1e-12);
    near(found.high, 2.85, 1e-12);
  });

  test('ties: the exact p of all sign patterns of the tied ranks', () => {
    const found = wilcoxonSignedRank([1, 1, -1, 2, 2, 3, -2, 4, 4, 5]);
    expect(found.statistic).toBe(48);
    near(found.p, 0.041015625, 1e-14);
  });

  test('sixty values: normal approximation with ties and continuity correction', () => {
    const values = Array.from({ length: 60 }, (_, i) => Math.round(Math.sin(i + 1) * 20 + 4));
    const found = wilcoxonSignedRank(values);
    expect(found.method).toBe('normal approximation');
    expect(found.zeros).toBe(0);
    expect(found.statistic).toBe(1247.5);
    near(found.p, 0.0144833593562, 1e-10);
  });

  test('midranks', () => {
    expect(midranks([10, 30, 20, 20, 50, 10, 10])).toEqual([2, 6, 4.5, 4.5, 7, 2, 2]);
  });
});

const sample = fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 6, maxLength: 60 });

test('shift, scale and sign carry over to estimate and interval; p keeps under the last two', () => {
  fc.assert(
    fc.property(sample, fc.integer({ min: -50, max: 50 }), (values, shift) => {
      const plain = wilcoxonSignedRank(values);
      const moved = wilcoxonSignedRank(values.map((value) => value + shift));
      const mirrored = wilcoxonSignedRank(values.map((value) => -2 * value));
      near(moved.estimate, plain.estimate! + shift, 1e-9);
      near(moved.low, plain.low! + shift, 1e-9);
      near(mirrored.low, -2 * plain.high!, 1e-9);
      near(mirrored.high, -2 * plain.low!, 1e-9);
      if (plain.p !== null) near(mirrored.p, plain.p, 1e-12);
      expect(plain.low!).toBeLessThanOrEqual(plain.estimate!);
      expect(plain.high!).toBeGreaterThanOrEqual(plain.estimate!);
    }),
    { seed: 3, numRuns: 100 },
  );
});

test('the exact level is at least the one asked for, and wider for more confidence', () => {
  for (let n = 8; n <= 50; n++) {
    const values = Array.from({ length: n }, (_, i) => Math.sin(i * 7.3) + i / n);
    const usual = wilcoxonSignedRank(values, { confidence: 0.95 });
    const wide = wilcoxonSignedRank(values, { confidence: 0.99 });
    expect(usual.achieved_confidence!).toBeGreaterThanOrEqual(0.95);
    expect(wide.low!).toBeLessThanOrEqual(usual.low!);
    expect(wide.high!).toBeGreaterThanOrEqual(usual.high!);
  }
});

test('of more than 50 values the interval ends at Walsh averages whose rank the normal law tells', () => {
  // 60·61/4 = 915, √(60·61·121/24) = 135.840; 915 − 1.959964 · 135.840 + 0.5 = 649.26. Of 1 to 60,
  // 25·26 = 650 Walsh averages (i + j)/2 are 25.5 or less, 625 are 25 or less: the 649th is 25.5.
  const found = wilcoxonSignedRank(Array.from({ length: 60 }, (_, i) => i + 1));
  expect([found.low, found.estimate, found.high]).toEqual([25.5, 30.5, 35.5]);
  // SciPy 1.17.1: 1 - 2 * norm.cdf((648.5 - 915) / 135.83997938751315)
  near(found.achieved_confidence, 0.950222052567406, 1e-9);
});

test('exact and approximate p meet at the border of 50 values', () => {
  const values = Array.from({ length: 50 }, (_, i) => (i % 3 === 0 ? -1 : 1) * (i + 1));
  const exact = wilcoxonSignedRank(values);
  const approximate = wilcoxonSignedRank([...values, 25.5]);
  expect(exact.method).toBe('exact');
  expect(approximate.method).toBe('normal approximation');
  near(approximate.p! / exact.p!, 1, 0.25);
});

test('the unit does not decide which differences are tied, nor which are zero', () => {
  const step = fc.integer({ min: 1, max: 60 });
  fc.assert(
    fc.property(
      fc.array(fc.tuple(step, step), { minLength: 4, maxLength: 60 }),
      fc.constantFrom(1e-3, 1e3, 0.1, 1 / 3, 1e-7),
      (readings, unit) => {
        // Whole steps have exact differences; the same readings in another unit round each one.
        const whole = wilcoxonSignedRank(readings.map(([c, r]) => c - r));
        const other = wilcoxonSignedRank(readings.map(([c, r]) => c * unit - r * unit));
        expect(other.zeros).toBe(whole.zeros);
        expect(other.statistic).toBe(whole.statistic);
        expect(other.p).toBe(whole.p);
      },
    ),
    { seed: 11, numRuns: 200 },
  );
});

test('differences that are equal in tenths are tied, though their doubles differ', () => {
  // 0.3 − 0.1 and 0.2 − 0.4 are 2 and −2 steps of 0.1, yet 0.3 − 0.1 < 0.4 − 0.2 in doubles
  expect(wilcoxonSignedRank([0.3 - 0.1, 0.2 - 0.4]).statistic).toBe(1.5);
});

describe('awkward input', () => {
  test('nothing, zeros only, too few for the level', () => {
    expect(wilcoxonSignedRank([])).toMatchObject({ p: null, estimate: null });
    expect(wilcoxonSignedRank([0, 0])).toMatchObject({ statistic: null, p: null, estimate: 0 });
    const few = wilcoxonSignedRank([1, 2, 3, 4, 5]);
    expect(few.p).toBe(2 / 32);
    expect(few.low).toBeNull();
    expect(few.why).toMatch(/5 values/);
  });

  test('a value that is not finite is refused', () => {
    expect(() => wilcoxonSignedRank([1, Number.NaN])).toThrow(/finite/);
    expect(() => wilcoxonSignedRank([1, 2], { confidence: 95 })).toThrow(/between 0 and 1/);
  });
});

describe('whole results by hand', () => {
  const none = { estimate: null, low: null, high: null, achieved_confidence: null };

  test.each<readonly [number[], number | undefined, object]>([
    [
      [],
      undefined,
      { n: 0, zeros: 0, statistic: null, p: null, ...none, why: 'There is no value.' },
    ],
    [
      [7],
      undefined,
      // Two signs: p = 2·½
      {
        n: 1,
        zeros: 0,
        statistic: 1,
        p: 1,
        ...none,
        estimate: 7,
        why: '1 values cannot give an interval at this confidence.',
      },
    ],
    [
      [1, 2, 3, 4, 5, 6],
      undefined,
      // 64 patterns: p = 2/64; beyond the smallest and largest mean 1/64 on each side
      {
        n: 6,
        zeros: 0,
        statistic: 21,
        p: 2 / 64,
        estimate: 3.5,
        low: 1,
        high: 6,
        achieved_confidence: 62 / 64,
        why: '',
      },
    ],
    [
      [-6, -5, -4, -3, -2, -1],
      undefined,
      {
        n: 6,
        zeros: 0,
        statistic: 0,
        p: 2 / 64,
        estimate: -3.5,
        low: -6,
        high: -1,
        achieved_confidence: 62 / 64,
        why: '',
      },
    ],
    [
      // 1/32 is exactly the tail asked for.
      [1, 2, 3, 4, 5],
      0.9375,
      {
        n: 5,
        zeros: 0,
        statistic: 15,
        p: 2 / 32,
        estimate: 3,
        low: 1,
        high: 5,
        achieved_confidence: 30 / 32,
        why: '',
      },
    ],
    [
      // Sums 0, 1, 2: 3 of 32 patterns on each side; the fourth mean of 1, 1.5, 2, 2, … is 2
      [1, 2, 3, 4, 5],
      1 - 2 * (3 / 32),
      {
        n: 5,
        zeros: 0,
        statistic: 15,
        p: 2 / 32,
        estimate: 3,
        low: 2,
        high: 4,
        achieved_confidence: 26 / 32,
        why: '',
      },
    ],
    [
      // Tied ranks 1.5: sums 0, 1.5, 1.5, 3; ¾ lie at 1.5 or below, and as many at 1.5 or above
      [0, -1, 1],
      0.5,
      // Means −1, −½, 0, 0, ½, 1 of three; sums 0, 1 have 2/8 of all patterns: the second from either end
      {
        n: 3,
        zeros: 1,
        statistic: 1.5,
        p: 1,
        estimate: 0,
        low: -0.5,
        high: 0.5,
        achieved_confidence: 0.5,
        why: '',
      },
    ],
    [
      [0, 0],
      undefined,
      {
        n: 2,
        zeros: 2,
        statistic: null,
        p: null,
        ...none,
        estimate: 0,
        why: '2 values cannot give an interval at this confidence.',
      },
    ],
  ])('%j at %s', (values, confidence, expected) => {
    const options = confidence === undefined ? {} : { confidence };
    expect(wilcoxonSignedRank(values, options)).toEqual({ method: 'exact', ...expected });
  });
});

test.each([
  // Within 1e-10 of the largest is zero.
  [[1, 1e-10], 1],
  [[1, 1.01e-10], 0],
  [[-1, 0.99e-10, 0], 2],
])('of %j %i are zero', (values, zeros) => {
  expect(wilcoxonSignedRank(values).zeros).toBe(zeros);
});

describe('the normal approximation of 60 values', () => {
  const signed = (positive: number) =>
    Array.from({ length: 60 }, (_, i) => (i < positive ? i + 1 : -(i + 1)));

  test('the whole sum of ranks of one sign', () => {
    // (1830 − 915 − ½)/√(60·61·121/24) = 914.5/135.84; SciPy 1.17.1: 2*norm.sf(914.5/135.83997938751315)
    for (const values of [signed(60), signed(0)]) {
      const { statistic, p } = wilcoxonSignedRank(values);
      expect(statistic).toBe(values[0]! > 0 ? 1830 : 0);
      nearly(p, 1.6713285696526423e-11, 1e-5);
    }
  });

  test('half of all ranks, and half a rank beside it, leave p at 1', () => {
    // 1 + 2 + … + 42 = 903, and 12 more of the negative ones: 915 = half of 1830
    const flipped = signed(42).map((value, i) => (i + 1 === 50 ? 50 : i + 1 === 38 ? -38 : value));
    const found = wilcoxonSignedRank(flipped);
    expect([found.statistic, found.p]).toEqual([915, 1]);
  });
});

test('2000 values at most', () => {
  const values = (n: number) => Array.from({ length: n }, () => 1);
  expect(wilcoxonSignedRank(values(2000))).toMatchObject({ n: 2000, estimate: 1, low: 1, high: 1 });
  const error = errorOf(() => wilcoxonSignedRank(values(2001)));
  expect(error).toMatchObject({ code: 'argument-wrong', found: '2001' });
});
