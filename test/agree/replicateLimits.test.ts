import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { limitsOf, limitsOfAgreement } from '../../src/agree/limitsOfAgreement.js';
import {
  replicatedMethodsLimits,
  replicatedMethodsLimitsFromFigures,
} from '../../src/agree/replicatedMethodsLimits.js';
import { replicateLimits } from '../../src/agree/replicateLimits.js';
import { seededRandom } from '../../src/statistics/random.js';
import { near } from '../near.js';

const unequal = [[1.2, 0.8, 1.5], [3.1, 2.7], [-0.4, 0.3, 0.1, -0.2], [2.0], [0.9, 1.9, 1.1]];

describe('limits of replicated pairs', () => {
  test('agree with the formulae evaluated in R on unequal groups', () => {
    // R 4.2.2, test/fixtures/agree.txt, lines groups.anova and groups.sd (Zou 2013)
    const found = replicateLimits(unequal);
    near(found.bias, 1.46333333333, 1e-10);
    near(found.sd_total, 1.12481788649, 1e-10);
    near(found.high, 1.46333333333 + 1.96 * 1.12481788649, 1e-9);
    // t(0.975; 4) = 2.776445; the margins of the bias and of the spread joined at right angles
    const half = 2.7764451052 * Math.sqrt(1.18922222222 / 5);
    near(found.bias_high, 1.46333333333 + half, 1e-8);
    near(
      found.high_interval[1],
      found.high! + Math.hypot(half, 1.96 * (3.1461355518 - 1.12481788649)),
      1e-8,
    );
    near(
      found.high_interval[0],
      found.high! - Math.hypot(half, 1.96 * (1.12481788649 - 0.708348641396)),
      1e-8,
    );
  });

  test('one pair a series: the same as plain limits', () => {
    const values = [1, 4, 2, 8, 5];
    expect(replicateLimits(values.map((value) => [value]))).toMatchObject(limitsOf(values));
  });

  test('intervals of the limit cover the truth for 4 unequal series', () => {
    // Between-series sd 2, within 1: true upper limit 1.96·√5. The method is approximate: 94 to 98 %
    // is what "nearly exact" means here; 4000 studies, binomial standard error 0.35 %.
    const random = seededRandom(99);
    const truth = 1.96 * Math.sqrt(5);
    const sizes = [3, 5, 8, 4];
    let covered = 0;
    let biasCovered = 0;
    const trials = 4000;
    for (let i = 0; i < trials; i++) {
      const groups = sizes.map((size) => {
        const own = 2 * random.normal();
        return Array.from({ length: size }, () => own + random.normal());
      });
      const { high_interval: high, bias_low, bias_high } = replicateLimits(groups);
      if (high[0]! <= truth && truth <= high[1]!) covered++;
      if (bias_low! <= 0 && 0 <= bias_high!) biasCovered++;
    }
    expect(covered / trials).toBeGreaterThan(0.94);
    expect(covered / trials).toBeLessThan(0.985);
    near(biasCovered / trials, 0.95, 0.014);
  });

  test('pooling the pairs as if independent would claim far too much', () => {
    const random = seededRandom(100);
    const truth = 1.96 * Math.sqrt(5);
    let covered = 0;
    for (let i = 0; i < 1000; i++) {
      const groups = Array.from({ length: 4 }, () => {
        const own = 2 * random.normal();
        return Array.from({ length: 5 }, () => own + random.normal());
      });
      const { high_interval: high } = limitsOfAgreement(groups.flat());
      if (high[0]! <= truth && truth <= high[1]!) covered++;
    }
    expect(covered / 1000).toBeLessThan(0.85);
  });

  const groups = fc.array(
    fc.array(fc.double({ min: -100, max: 100, noNaN: true }), { minLength: 1, maxLength: 6 }),
    { minLength: 2, maxLength: 6 },
  );

  test('shift, scale and swap carry over; more confidence is wider', () => {
    fc.assert(
      fc.property(groups, (sample) => {
        const plain = replicateLimits(sample);
        const moved = replicateLimits(sample.map((group) => group.map((value) => 2 * value + 5)));
        const swapped = replicateLimits(sample.map((group) => group.map((value) => -value)));
        const wide = replicateLimits(sample, { confidence: 0.99 });
        const size =
          1e-6 * (1 + Math.abs(plain.high_interval[1]!) + Math.abs(plain.low_interval[0]!));
        near(moved.high_interval[1], 2 * plain.high_interval[1]! + 5, 4 * size);
        near(swapped.low_interval[0], -plain.high_interval[1]!, size);
        expect(plain.low!).toBeLessThanOrEqual(plain.bias! + 1e-9);
        expect(wide.high_interval[1]!).toBeGreaterThanOrEqual(plain.high_interval[1]! - 1e-9);
        expect(wide.bias_low!).toBeLessThanOrEqual(plain.bias_low! + 1e-9);
      }),
      { seed: 5, numRuns: 100 },
    );
  });

  test('very large and very small differences stay finite', () => {
    for (const size of [1e140, 1e-140]) {
      const { why: _, ...found } = replicateLimits([
        [size, -size],
        [2 * size, 0],
      ]);
      expect(Object.values(found).flat().every(Number.isFinite)).toBe(true);
    }
  });

  test('one series, no series and no scatter say what is missing', () => {
    const one = replicateLimits([[1, 2, 3], []]);
    expect(one).toMatchObject({ bias: 2, sd_within: 1, sd_between: null, low: null, groups: 1 });
    expect(one.why).toMatch(/One series/);
    expect(replicateLimits([])).toMatchObject({ bias: null, high: null, pairs: 0 });
    expect(
      replicateLimits([
        [1, 1],
        [1, 1],
      ]),
    ).toMatchObject({ low: 1, high: 1, sd_total: 0 });
    const alike = replicateLimits([
      [-1, 1],
      [-1.1, 1.1],
      [-0.9, 0.9],
    ]);
    expect(alike.sd_between).toBe(0);
    expect(alike.why).toMatch(/no more than/);
  });
});

describe('limits from unpaired repeats', () => {
  test('one repeat each gives plain limits (by the approximate interval)', () => {
    const reference = [10, 12, 15, 11];
    const candidate = [11, 12, 17, 10];
    const found = replicatedMethodsLimits(
      reference.map((value, i) => ({ reference: [value], candidate: [candidate[i]] })),
    );
    const plain = limitsOfAgreement([1, 0, 2, -1]);
    near(found.low, plain.low!, 1e-12);
    near(found.high, plain.high!, 1e-12);
    expect(found.sd_reference).toBeNull();
  });

  test('more repeats do not narrow the limits of single readings', () => {
    const random = seededRandom(12);
    const width = (repeats: number) => {
      const sources = Array.from({ length: 200 }, () => ({
        reference: Array.from({ length: repeats }, () => random.normal()),
        candidate: Array.from({ length: repeats }, () => 2 * random.normal()),
      }));
      return replicatedMethodsLimits(sources).sd_total;
    };
    // True sd √5 = 2.236; standard error about 0.11 with 200 sources
    near(width(1), Math.sqrt(5), 0.4);
    near(width(10), Math.sqrt(5), 0.2);
  });

  test('one source is too few', () => {
    expect(() => replicatedMethodsLimits([{ reference: [1], candidate: [2] }])).toThrow(
      /2 sources/,
    );
  });
});

describe('limits from figures that cannot be', () => {
  const meter = { variance: 0.4, size: 2, dof: 5 };
  const figures = { n: 6, bias: 0.2, variance_of_means: 1.5, reference: meter, candidate: meter };

  test.each([
    ['a negative variance of the means', { variance_of_means: -1 }],
    ['a negative variance of a meter', { reference: { ...meter, variance: -0.1 } }],
    ['a variance that is not a number', { candidate: { ...meter, variance: Number.NaN } }],
    ['fewer than one repeat', { candidate: { ...meter, size: 0.5 } }],
    ['degrees of freedom below 0', { reference: { ...meter, dof: -1 } }],
    ['a bias that is not finite', { bias: Number.POSITIVE_INFINITY }],
    ['half a source', { n: 2.5 }],
  ])('%s is refused', (_, wrong) => {
    expect(() => replicatedMethodsLimitsFromFigures({ ...figures, ...wrong })).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });

  test('no variance at all gives limits without width, not NaN', () => {
    const none = { ...meter, variance: 0 };
    const found = replicatedMethodsLimitsFromFigures({
      ...figures,
      variance_of_means: 0,
      reference: none,
      candidate: none,
    });
    expect(found).toMatchObject({ low: 0.2, high: 0.2, sd_total: 0 });
  });
});

test('a meter that was read once per source has no repeatability', () => {
  const found = replicatedMethodsLimitsFromFigures({
    n: 5,
    bias: 1,
    variance_of_means: 4,
    reference: { variance: 1, size: 2, dof: 5 },
    candidate: { variance: 0, size: 1, dof: 0 },
  });
  // √(4 + (1 − ½)·1)
  near(found.sd_total, Math.sqrt(4.5), 1e-12);
  expect([found.sd_reference, found.sd_candidate]).toEqual([1, null]);
});

test('groups that do not differ at all have no scatter between them, and it is said', () => {
  expect(
    replicateLimits([
      [1, 1],
      [1, 1],
      [1, 1],
    ]).why,
  ).toContain('is set to 0');
});
