import fc from 'fast-check';
import { expect, test } from 'vitest';
import { equivalenceOfDifference, equivalenceOfRatio } from '../../src/agree/equivalence.js';
import { seededRandom } from '../../src/statistics/random.js';
import { near } from '../near.js';

test('it decides exactly as the 1 − 2α interval does', () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: -3, max: 3, noNaN: true }), { minLength: 2, maxLength: 20 }),
      (values) => {
        const found = equivalenceOfDifference(values, { low: -1, high: 1.5 });
        if (found.low === null) return;
        const inside = found.low! > -1 && found.high! < 1.5;
        expect(found.decision).toBe(inside ? 'equivalent' : 'not-shown');
      },
    ),
    { seed: 21, numRuns: 200 },
  );
});

test('a mean on the margin is called equivalent in at most 5 % of samples', () => {
  const random = seededRandom(55);
  let wrong = 0;
  for (let i = 0; i < 5000; i++) {
    const values = Array.from({ length: 6 }, () => 1 + 0.2 * random.normal());
    if (equivalenceOfDifference(values, { low: -1, high: 1 }).decision === 'equivalent') wrong++;
  }
  // Binomial standard error 0.31 %; four of them
  expect(wrong / 5000).toBeLessThan(0.0624);
  expect(wrong / 5000).toBeGreaterThan(0.0376);
});

test('the result states the confidence of its own interval, 1 − 2α, in words as well', () => {
  for (const [alpha, confidence, words] of [
    [0.05, 0.9, '90 %'],
    [1 - 0.95, 0.9, '90 %'],
    [0.025, 0.95, '95 %'],
    [0.001, 0.998, '99.8 %'],
  ] as const) {
    for (const values of [
      [0.1, 0.2, 0.15, 0.12],
      [-3, 3],
    ]) {
      const found = equivalenceOfDifference(values, { low: -1, high: 1, alpha });
      expect(found.confidence).toBe(confidence);
      expect(found.why).toContain(`The ${words} interval of the mean`);
    }
  }
  expect(equivalenceOfDifference([], { low: -1, high: 1 }).confidence).toBe(0.9);
});

test('few scattered readings show nothing, however small their mean', () => {
  expect(equivalenceOfDifference([-3, 3], { low: -1, high: 1 }).decision).toBe('not-shown');
});

test('ratios: swapping the meters and inverting the margins keeps p', () => {
  const ratios = [0.97, 1.02, 1.01, 0.99, 1.03];
  const plain = equivalenceOfRatio(ratios, { low: 0.95, high: 1 / 0.95 });
  const swapped = equivalenceOfRatio(
    ratios.map((ratio) => 1 / ratio),
    { low: 0.95, high: 1 / 0.95 },
  );
  near(swapped.p, plain.p!, 1e-12);
  near(swapped.low! * plain.high!, 1, 1e-12);
});

test('awkward input', () => {
  const margins = { low: -1, high: 1 };
  expect(equivalenceOfDifference([], margins)).toMatchObject({ decision: 'not-shown', p: null });
  expect(equivalenceOfDifference([0], margins)).toMatchObject({
    decision: 'not-shown',
    estimate: 0,
  });
  // Equal readings say that the display is coarse, not that the meters agree.
  const equal = equivalenceOfDifference([0.5, 0.5], margins);
  expect(equal).toMatchObject({ decision: 'not-shown', estimate: 0.5, p: null });
  expect(equal.why).toMatch(/display/);
  expect(() => equivalenceOfDifference([1, 2], { low: 1, high: 1 })).toThrow(/margin/);
  expect(() => equivalenceOfDifference([1, 2], { ...margins, alpha: 0.6 })).toThrow(/level/);
  expect(() => equivalenceOfRatio([1, 2], { low: 0, high: 2 })).toThrow(/above 0/);
});
