import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { exactLimitFactors, limitsOfAgreement } from '../../src/agree/limitsOfAgreement.js';
import { ratioLimits } from '../../src/agree/ratioLimits.js';
import { summariseDifferences } from '../../src/agree/summarise.js';
import { coverageFactor } from '../../src/statistics/distributions.js';
import { seededRandom } from '../../src/statistics/random.js';
import { near } from '../near.js';
import { PEAK_FLOW } from '../peakFlow.js';

const values = fc.array(fc.double({ min: -100, max: 100, noNaN: true }), {
  minLength: 2,
  maxLength: 30,
});
const runs = { seed: 11, numRuns: 150 };

describe('limits of agreement', () => {
  test('exact intervals of n = 5 cover the true limits in 95 % of samples', () => {
    // 20 000 samples: binomial standard error 0.15 %; four of them either way.
    const random = seededRandom(2024);
    const trials = 20000;
    let lower = 0;
    let upper = 0;
    for (let i = 0; i < trials; i++) {
      const sample = Array.from({ length: 5 }, () => 3 + 2 * random.normal());
      const { low_interval: low, high_interval: high } = limitsOfAgreement(sample);
      if (low[0]! <= 3 - 1.96 * 2 && 3 - 1.96 * 2 <= low[1]!) lower++;
      if (high[0]! <= 3 + 1.96 * 2 && 3 + 1.96 * 2 <= high[1]!) upper++;
    }
    near(lower / trials, 0.95, 0.0062);
    near(upper / trials, 0.95, 0.0062);
  });

  test('the symmetric interval of the older papers misses, with n = 5, more often beyond its outer end', () => {
    // Why the exact one is used. Bland and Altman 1999, section 2.2: ± t·s·√(1/n + 1.96²/(2(n − 1))).
    // The true limit lies outside the outer end far more than 2.5 %.
    const random = seededRandom(7);
    let beyond = 0;
    for (let i = 0; i < 5000; i++) {
      const sample = Array.from({ length: 5 }, () => random.normal());
      const { mean, sd } = summariseDifferences(sample);
      const half = coverageFactor(0.95, 4) * sd! * Math.sqrt(1 / 5 + 1.96 ** 2 / 8);
      if (mean! + 1.96 * sd! + half < 1.96) beyond++;
    }
    expect(beyond / 5000).toBeGreaterThan(0.04);
  });

  test('limits contain the bias, each interval its limit, more confidence is wider', () => {
    fc.assert(
      fc.property(values, (sample) => {
        const { mean } = summariseDifferences(sample);
        const usual = limitsOfAgreement(sample);
        const wide = limitsOfAgreement(sample, { confidence: 0.99 });
        expect(usual.low!).toBeLessThanOrEqual(mean!);
        expect(usual.high!).toBeGreaterThanOrEqual(mean!);
        for (const [end, [from, to]] of [
          [usual.low, usual.low_interval],
          [usual.high, usual.high_interval],
        ] as const) {
          expect(from!).toBeLessThanOrEqual(end!);
          expect(to!).toBeGreaterThanOrEqual(end!);
        }
        expect(wide.high_interval[1]!).toBeGreaterThanOrEqual(usual.high_interval[1]!);
        expect(wide.high_interval[0]!).toBeLessThanOrEqual(usual.high_interval[0]!);
      }),
      runs,
    );
  });

  test('shift and scale carry over; swapping the meters mirrors', () => {
    fc.assert(
      fc.property(values, fc.double({ min: -50, max: 50, noNaN: true }), (sample, shift) => {
        const plain = limitsOfAgreement(sample);
        const moved = limitsOfAgreement(sample.map((value) => 3 * value + shift));
        const swapped = limitsOfAgreement(sample.map((value) => -value));
        const size =
          1e-9 * (1 + Math.abs(plain.high_interval[1]!) + Math.abs(plain.low_interval[0]!));
        near(moved.low_interval[0], 3 * plain.low_interval[0]! + shift, 10 * size + 1e-9);
        near(moved.high, 3 * plain.high! + shift, 10 * size + 1e-9);
        near(swapped.low, -plain.high!, size);
        near(swapped.low_interval[0], -plain.high_interval[1]!, size);
        near(swapped.high_interval[0], -plain.low_interval[1]!, size);
      }),
      runs,
    );
  });

  test('the two factors close in on the multiplier as pairs grow', () => {
    const widths = [3, 10, 50, 200, 1000].map((n) => {
      const [near1, far] = exactLimitFactors(n);
      expect(near1).toBeLessThan(1.96);
      expect(far).toBeGreaterThan(1.96);
      return far - near1;
    });
    expect(widths).toEqual([...widths].sort((a, b) => b - a));
  });

  test('too few, equal and impossible values', () => {
    const none = { low: null, high: null, low_interval: [null, null], high_interval: [null, null] };
    expect(limitsOfAgreement([])).toMatchObject(none);
    expect(limitsOfAgreement([1])).toMatchObject(none);
    expect(limitsOfAgreement([2, 2, 2])).toMatchObject({
      n: 3,
      mean: 2,
      sd: 0,
      low: 2,
      high: 2,
      low_interval: [2, 2],
      high_interval: [2, 2],
    });
    expect(() => limitsOfAgreement([1, Number.NaN])).toThrow(/finite/);
    expect(() => limitsOfAgreement([1, 1e300])).toThrow(/1e150/);
    expect(() => limitsOfAgreement([1, 2], { confidence: 1 })).toThrow(/between 0 and 1/);
    expect(() => limitsOfAgreement([1, 2], { multiplier: -1 })).toThrow(/multiplier/);
  });
});

describe('summary of differences', () => {
  test('no value, one value, equal values', () => {
    expect(summariseDifferences([])).toMatchObject({
      n: 0,
      mean: null,
      sd: null,
      low: null,
      high: null,
    });
    expect(summariseDifferences([4])).toMatchObject({
      n: 1,
      mean: 4,
      sd: null,
      low: null,
      high: null,
    });
    expect(summariseDifferences([4, 4])).toMatchObject({ n: 2, mean: 4, sd: 0, low: 4, high: 4 });
    expect(() => summariseDifferences([Number.POSITIVE_INFINITY])).toThrow(/finite/);
  });

  test('the interval mirrors with the sign and widens with confidence', () => {
    fc.assert(
      fc.property(values, (sample) => {
        const plain = summariseDifferences(sample);
        const swapped = summariseDifferences(sample.map((value) => -value));
        const wide = summariseDifferences(sample, { confidence: 0.999 });
        near(swapped.low, -plain.high!, 1e-9 * (1 + Math.abs(plain.high!)));
        expect(wide.high!).toBeGreaterThanOrEqual(plain.high!);
      }),
      runs,
    );
  });
});

describe('limits as ratios', () => {
  const { reference: a, candidate: b } = PEAK_FLOW;

  test('agree with R on the peak flow data', () => {
    // R 4.2.2, test/fixtures/agree.txt, lines pefr.log.limits and pefr.log.upper
    const found = ratioLimits(b.map((value, i) => value / a[i]));
    near(found.ratio, 1.01185425122, 1e-10);
    near(found.low, 0.950388432814, 1e-9);
    near(found.high, 1.07729533564, 1e-9);
    near(found.limits.low, 0.796828348784, 1e-10);
    near(found.limits.high, 1.28490537175, 1e-10);
    near(found.limits.high_interval[0], 1.18776623437, 1e-9);
    near(found.limits.high_interval[1], 1.4851674381, 1e-9);
  });

  test('swapping the meters inverts everything', () => {
    const plain = ratioLimits(b.map((value, i) => value / a[i]));
    const swapped = ratioLimits(a.map((value, i) => value / b[i]));
    near(swapped.limits.low! * plain.limits.high!, 1, 1e-12);
    near(swapped.low! * plain.high!, 1, 1e-12);
  });

  test('ratios at or below zero are refused; a huge spread stays finite', () => {
    expect(() => ratioLimits([1, 0])).toThrow(/above 0/);
    expect(() => ratioLimits([1, -2])).toThrow(/above 0/);
    const wild = ratioLimits([1e-150, 1e150]);
    expect(Object.values(wild.limits).flat().every(Number.isFinite)).toBe(true);
    expect(ratioLimits([])).toMatchObject({ ratio: null, log_sd: null });
  });
});
