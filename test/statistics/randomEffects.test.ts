import fc from 'fast-check';
import { expect, test } from 'vitest';
import { randomEffects, randomEffectsMean } from '../../src/statistics/randomEffects.js';
import { near } from '../near.js';
import { errorOf } from '../record/support.js';

const estimate = fc.record({
  value: fc.integer({ min: -500, max: 500 }).map((x) => x / 1000),
  standardUncertainty: fc.integer({ min: 1, max: 200 }).map((x) => x / 1000),
});

test('the mean lies among the estimates and the safeguard never narrows', () => {
  fc.assert(
    fc.property(fc.array(estimate, { minLength: 2, maxLength: 8 }), (estimates) => {
      for (const method of ['paule-mandel', 'dersimonian-laird'] as const) {
        const found = randomEffects(estimates, { method });
        const values = estimates.map((one) => one.value);
        expect(found.mean).toBeGreaterThanOrEqual(Math.min(...values) - 1e-12);
        expect(found.mean).toBeLessThanOrEqual(Math.max(...values) + 1e-12);
        expect(found.betweenVariance).toBeGreaterThanOrEqual(0);
        expect(found.hartungKnapp).toBeGreaterThanOrEqual(found.standardError);
        expect(found.p).toBeGreaterThanOrEqual(0);
      }
    }),
    { seed: 6, numRuns: 200 },
  );
});

test('at the variance of Paule and Mandel the weighted squares equal m − 1', () => {
  fc.assert(
    fc.property(fc.array(estimate, { minLength: 3, maxLength: 8 }), (estimates) => {
      const { betweenVariance, mean } = randomEffects(estimates);
      const q = estimates.reduce(
        (sum, e) => sum + (e.value - mean) ** 2 / (e.standardUncertainty ** 2 + betweenVariance),
        0,
      );
      if (betweenVariance > 0) near(q, estimates.length - 1, 1e-6);
      else expect(q).toBeLessThanOrEqual(estimates.length - 1 + 1e-9);
    }),
    { seed: 7, numRuns: 200 },
  );
});

test('p is that of chi squared with m − 1 degrees of freedom', () => {
  // q = d²/2 of two that are d apart; 3.841459 and 5.991465 are the tabled 5 % points of 1 and 2
  const of = (...values: number[]) =>
    randomEffects(values.map((value) => ({ value, standardUncertainty: 1 })));
  const two = of(0, Math.sqrt(2 * 3.841459));
  near(two.q, 3.841459, 1e-6);
  near(two.p, 0.05, 1e-7);
  // Three at −d, 0 and d: q = 2 d²
  const three = of(-Math.sqrt(5.991465 / 2), 0, Math.sqrt(5.991465 / 2));
  near(three.p, 0.05, 1e-7);
  near(three.iSquared, (5.991465 - 2) / 5.991465, 1e-9);
});

test('estimates that agree perfectly have no spread, and p = 1', () => {
  const same = [1, 1, 1].map((value) => ({ value, standardUncertainty: 0.1 }));
  const found = randomEffects(same);
  expect(found).toMatchObject({ mean: 1, betweenVariance: 0, q: 0, p: 1, iSquared: 0 });
  near(found.hartungKnapp, 0.1 / Math.sqrt(3), 1e-12);
  expect(found.hartungKnappPlain).toBe(0);
});

const estimatesOf = (...pairs: (readonly [number, number])[]) =>
  pairs.map(([value, standardUncertainty]) => ({ value, standardUncertainty }));

test('two of 0 and 4 with standard uncertainties of 1, by hand', () => {
  // q = 2·2² = 8; Paule–Mandel 8/(1 + τ²) = 1, DerSimonian–Laird (8 − 1)/(2 − 2/2): τ² = 7 both. Weights
  // 1/8 each: standard error √4; Hartung–Knapp √((4 + 4)/8/(1/4)) = 2. SciPy 1.17.1: chi2.sf(8, 1),
  // t.ppf([.975, .95], 1) = 12.706204736174694, 6.313751514675037
  const expected = {
    mean: expect.closeTo(2, 12),
    standardError: expect.closeTo(2, 10),
    hartungKnapp: expect.closeTo(2, 10),
    hartungKnappPlain: expect.closeTo(2, 10),
    betweenVariance: expect.closeTo(7, 9),
    q: expect.closeTo(8, 12),
    p: expect.closeTo(0.004677734981047276, 10),
    iSquared: expect.closeTo(7 / 8, 12),
    low: expect.closeTo(2 - 2 * 12.706204736174694, 6),
    high: expect.closeTo(2 + 2 * 12.706204736174694, 6),
    dof: 1,
    confidence: 0.95,
  };
  const two = estimatesOf([0, 1], [4, 1]);
  expect(randomEffects(two)).toEqual(expected);
  expect(randomEffects(two, { method: 'dersimonian-laird' })).toEqual(expected);
  expect(randomEffects(two, { confidence: 0.9 })).toEqual({
    ...expected,
    low: expect.closeTo(2 - 2 * 6.313751514675037, 6),
    high: expect.closeTo(2 + 2 * 6.313751514675037, 6),
    confidence: 0.9,
  });
});

test('three of unequal uncertainties, DerSimonian and Laird by hand', () => {
  // Weights 1, 1, 1/4: sum 9/4, of squares 33/16; mean (0 + 3 + 3/2)/(9/4) = 2; q = 4 + 1 + 4 = 9.
  // τ² = (9 − 2)/(9/4 − 11/12) = 21/4: weights 4/25, 4/25, 4/37
  const three = estimatesOf([0, 1], [3, 1], [6, 2]);
  const found = randomEffectsMean(three, { method: 'dersimonian-laird' });
  const [w, v] = [4 / 25, 4 / 37];
  const mean = (3 * w + 6 * v) / (2 * w + v);
  const squares = w * mean ** 2 + w * (3 - mean) ** 2 + v * (6 - mean) ** 2;
  const plain = Math.sqrt(squares / (2 * (2 * w + v)));
  expect(found).toEqual({
    mean: expect.closeTo(mean, 12),
    standardError: expect.closeTo(1 / Math.sqrt(2 * w + v), 12),
    hartungKnapp: expect.closeTo(Math.max(plain, 1 / Math.sqrt(2 * w + v)), 12),
    hartungKnappPlain: expect.closeTo(plain, 12),
    betweenVariance: expect.closeTo(21 / 4, 12),
    q: expect.closeTo(9, 12),
    // χ² of two degrees of freedom: exp(−9/2)
    p: expect.closeTo(Math.exp(-4.5), 9),
    iSquared: expect.closeTo(7 / 9, 12),
  });
});

test.each(['paule-mandel', 'dersimonian-laird'] as const)(
  '%s: nearer than their uncertainties say, there is no variance between',
  (method) => {
    // q = 2·(1/2)² and 2·(1/2)²/10⁶, below 1
    for (const unit of [1, 1000]) {
      const found = randomEffects(estimatesOf([0, unit], [1, unit]), { method });
      expect(found.betweenVariance).toBe(0);
      expect(found.iSquared).toBe(0);
    }
    // Just above: d²/2 = 1.02 from √2.04 apart, τ² = 0.02
    const above = randomEffects(estimatesOf([0, 1], [Math.sqrt(2.04), 1]), { method });
    near(above.betweenVariance, 0.02, 1e-9);
  },
);

test('without asking for one it is the variance of Paule and Mandel', () => {
  const three = estimatesOf([0, 1], [3, 1], [6, 2]);
  const found = randomEffectsMean(three);
  expect(found).toEqual(randomEffectsMean(three, { method: 'paule-mandel' }));
  expect(found.betweenVariance).not.toBeCloseTo(21 / 4, 3);
});

test.each<readonly [unknown, object, string]>([
  [[], {}, 'too-few-values: A random-effects mean needs at least 2 values. Found: 0.'],
  [
    estimatesOf([1, 1]),
    {},
    'too-few-values: A random-effects mean needs at least 2 values. Found: 1.',
  ],
  [
    estimatesOf([1, 1], [1, 0]),
    {},
    'argument-wrong: The estimates (2) (standardUncertainty) must be a finite number above 0. Found: 0.',
  ],
  [
    estimatesOf([Number.NaN, 1], [1, 1]),
    {},
    'argument-wrong: The estimates (1) (value) must be a finite number. Found: NaN.',
  ],
  [
    estimatesOf([1, 1], [2, 1]),
    { method: 'mandel' },
    'argument-wrong: method must be one of these words. Found: the text "mandel". Right would be: paule-mandel, dersimonian-laird.',
  ],
  [
    estimatesOf([1, 1], [2, 1]),
    { confidence: 1 },
    'argument-wrong: confidence must be a confidence level between 0 and 1, such as 0.95. Found: 1.',
  ],
])('%j with %j is refused', (estimates, options, said) => {
  const { code, message } = errorOf(() => randomEffects(estimates as never, options));
  expect(`${code}: ${message}`).toBe(said);
});
