import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
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

describe('Grubbs, by hand', () => {
  // Mean 0, s² = 28/6 for −3 to 3; critical: (n − 1)/√n·√(t²/(n − 2 + t²)), SciPy 1.17.1:
  // t=stats.t.ppf(1-.05/14,5); 6/7**.5*(t*t/(5+t*t))**.5, and with .1
  test.each([
    [undefined, 2.0199685076795975],
    [0.1, 1.93813471619628],
  ])('the first of two that are as far, at the level %s', (alpha, critical) => {
    const found = grubbs([-2, -3, -1, 0, 1, 3, 2], alpha === undefined ? {} : { alpha });
    expect(found).toEqual({
      index: 1,
      statistic: expect.closeTo(3 / Math.sqrt(28 / 6), 12),
      critical: expect.closeTo(critical, 7),
      outlier: false,
    });
  });

  test.each([
    [[0, 0, 0, 0, 0, 0, 7], 6],
    [[7, 0, 0, 0, 0, 0, 0], 0],
    [[0, 0, 0, -7, 0, 0, 0], 3],
  ])('%j: place %i is an outlier', (values, index) => {
    // Mean ±1: distance 6, s² = (36 + 6)/6 = 7
    expect(grubbs(values)).toMatchObject({
      index,
      statistic: expect.closeTo(6 / Math.sqrt(7), 12),
      outlier: true,
    });
  });

  test('every value counts', () => {
    expect(errorOf(() => grubbs([1, 2, 3, 4, 5, 6, Number.NaN])).code).toBe('argument-wrong');
  });
});

describe('the generalised ESD by hand', () => {
  // Each step by grubbs on what is left: the same statistic, and the same critical value of Rosner 1983
  const bySteps = (values: readonly number[], most: number, alpha: number) => {
    const left = values.map((value, index) => ({ value, index }));
    return Array.from({ length: most }, () => {
      const one = grubbs(
        left.map(({ value }) => value),
        { alpha },
      );
      const { index } = left[one.index]!;
      left.splice(one.index, 1);
      return { index, statistic: one.statistic, critical: one.critical };
    });
  };

  test.each([
    [[1, 2, 4, 8, 16, 32, 64, 128, 256, 512, 1024], 4, 0.05],
    [[-9, 1, 2, 2.5, 3, 3.5, 4, 5, 30, 6, 5.5, -20], 5, 0.2],
    [[0, -1, 1, -2, 2, -3, 3, -4.5, 4.5, 5, -5, 0.5], 5, 0.05],
    [[7, 7, 7, 7, 7, 7, 7, 8, 7, 6, 7, 7], 2, 0.01],
    // The smallest and largest are as far: the one that stands first goes first.
    [[3, 0, 1, 0, -1, 0, 0, 0, 0, 0, -3], 2, 0.05],
    [[-3, 0, 1, 0, -1, 0, 0, 0, 0, 0, 3], 2, 0.05],
  ])('%j, at most %i, at the level %d', (values, most, alpha) => {
    const { steps } = generalisedEsd(values, { most, alpha });
    const expected = bySteps(values, most, alpha);
    expect(steps.map((step) => step.index)).toEqual(expected.map((step) => step.index));
    steps.forEach((step, i) => {
      near(step.statistic, expected[i]!.statistic, 1e-12);
      near(step.critical, expected[i]!.critical, 1e-12);
    });
  });

  test('where the rest is equal the steps end; a later step convicts the earlier', () => {
    const values = [5, 5, 5, 9, 5, 5, 5, 5, 5, 9.1, 5, 5, 5, 5, 5, 5];
    const { steps, outliers } = generalisedEsd(values, { most: 5 });
    expect(steps.map((step) => step.index)).toEqual([9, 3]);
    expect(outliers).toEqual([9, 3]);
    // Two of 9 and 9.1 mask each other: the first step alone lies below its critical value.
    const few = [5, 5.1, 5.2, 4.9, 4.8, 5, 9, 9.1];
    const found = generalisedEsd(few, { most: 2 });
    expect(found.steps[0]!.statistic).toBeLessThan(found.steps[0]!.critical);
    expect(found.steps[1]!.statistic).toBeGreaterThan(found.steps[1]!.critical);
    expect(found.outliers).toEqual([7, 6]);
  });

  test('a level of 5 % where none is said', () => {
    const values = [1, 2, 3, 4, 5, 6, 7, 20];
    expect(generalisedEsd(values, { most: 1 })).toEqual(
      generalisedEsd(values, { most: 1, alpha: 0.05 }),
    );
    expect(generalisedEsd(values, { most: 1 }).outliers).toEqual([7]);
  });

  test.each([0, -1, 1.5, 2, Number.NaN])('at most %d of four is refused', (most) => {
    const error = errorOf(() => generalisedEsd([1, 2, 3, 9], { most }));
    expect(error).toMatchObject({ code: 'argument-wrong', found: String(most) });
  });

  test('one of four is the most and the least', () => {
    expect(generalisedEsd([1, 2, 3, 9], { most: 1 }).steps).toHaveLength(1);
  });
});
