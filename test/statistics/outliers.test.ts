import fc from 'fast-check';
import { expect, test } from 'vitest';
import { generalisedEsd } from '../../src/statistics/generalisedEsd.js';
import { grubbs } from '../../src/statistics/grubbs.js';
import { seededRandom } from '../../src/statistics/random.js';
import { near } from '../near.js';
import { errorOf } from '../record/support.js';

test('both tests answer the same after a change of unit and of zero', () => {
  const value = fc.integer({ min: -1000, max: 1000 }).map((x) => x / 10);
  fc.assert(
    fc.property(
      fc.array(value, { minLength: 15, maxLength: 30 }),
      fc.integer({ min: 1, max: 50 }),
      (values, scale) => {
        fc.pre(new Set(values).size > 6);
        const moved = values.map((x) => scale * x + 7);
        near(grubbs(moved).statistic, grubbs(values).statistic, 1e-9);
        const steps = (list: readonly number[]) =>
          generalisedEsd(list, { most: 3 }).steps.map((step) => step.statistic.toFixed(9));
        expect(steps(moved)).toEqual(steps(values));
      },
    ),
    { seed: 5, numRuns: 60 },
  );
});

test('normal values are convicted in one set of twenty at 5 %', () => {
  const random = seededRandom(8);
  const sets = 2000;
  let grubbsHits = 0;
  let esdHits = 0;
  for (let i = 0; i < sets; i++) {
    const values = Array.from({ length: 20 }, () => random.normal());
    if (grubbs(values).outlier) grubbsHits++;
    if (generalisedEsd(values, { most: 4 }).outliers.length > 0) esdHits++;
  }
  // Three and a half binomial standard errors of 5 % in 2000 sets: 1.7 %
  near(grubbsHits / sets, 0.05, 0.017);
  // Rosner 1983: the several steps together stay near the level, a little above it.
  expect(esdHits / sets).toBeGreaterThan(0.033);
  expect(esdHits / sets).toBeLessThan(0.075);
});

test('equal values hold no outlier', () => {
  const equal = new Array<number>(10).fill(4.2);
  expect(grubbs(equal)).toMatchObject({ statistic: 0, outlier: false });
  expect(generalisedEsd(equal, { most: 2 })).toEqual({ steps: [], outliers: [] });
});

test('too few values and levels outside (0, 1) are refused', () => {
  expect(errorOf(() => grubbs([1, 2, 3, 4, 5, 6])).code).toBe('too-few-values');
  expect(errorOf(() => generalisedEsd([1, 2, 3], { most: 1 })).code).toBe('too-few-values');
  expect(errorOf(() => generalisedEsd([1, 2, 3, 4, 5], { most: 3 })).code).toBe('argument-wrong');
  expect(errorOf(() => generalisedEsd([1, 2, 3, 4, 5], { most: 1, alpha: 1 })).code).toBe(
    'argument-wrong',
  );
  expect(errorOf(() => grubbs([1, 2, 3, 4, 5, 6, 7], { alpha: 0 })).code).toBe('argument-wrong');
});
