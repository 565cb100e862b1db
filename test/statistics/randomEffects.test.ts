import fc from 'fast-check';
import { expect, test } from 'vitest';
import { randomEffects } from '../../src/statistics/randomEffects.js';
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

test('one estimate, or one without uncertainty, is refused by code', () => {
  const one = { value: 1, standardUncertainty: 0.1 };
  expect(errorOf(() => randomEffects([one])).code).toBe('too-few-values');
  expect(errorOf(() => randomEffects([one, { value: 1, standardUncertainty: 0 }])).code).toBe(
    'argument-wrong',
  );
});
