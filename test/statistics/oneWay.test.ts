import { expect, test } from 'vitest';
import { oneWay } from '../../src/statistics/oneWay.js';
import { near } from '../near.js';
import { errorOf } from '../record/support.js';

const unequal = [[1.2, 0.8, 1.5], [3.1, 2.7], [-0.4, 0.3, 0.1, -0.2], [2.0], [0.9, 1.9, 1.1]];

test('the mean square within and the means of unequal groups agree with R', () => {
  // R 4.2.2, test/fixtures/agree.txt, line groups.anova: anova(lm(val ~ id)), harmonic size, mean
  // and variance of the group means; 12 digits
  const found = oneWay(unequal);
  near(found.mean_square_within, 0.147083333333, 1e-11);
  near(found.harmonic_size, 2.06896551724, 1e-10);
  near(found.variance_of_means, 1.18922222222, 1e-10);
});

test('equal sizes: the harmonic size is that size', () => {
  const found = oneWay([
    [1, 2, 4],
    [3, 3, 9],
  ]);
  near(found.harmonic_size, 3, 1e-12);
});

test('unequal groups by hand', () => {
  // Within: 1 + 1, and 4 + 4 + 0, with 5 − 2; sizes 2/(1/2 + 1/3); means 2 and 6 about 4: 4 + 4
  expect(
    oneWay([
      [1, 3],
      [4, 8, 6],
    ]),
  ).toEqual({
    groups: 2,
    values: 5,
    group_means: [2, 6],
    mean_square_within: 10 / 3,
    harmonic_size: expect.closeTo(2.4, 12),
    variance_of_means: expect.closeTo(8, 12),
  });
});

test('groups of one value have no scatter within, one of two is enough', () => {
  expect(oneWay([[1], [2]]).mean_square_within).toBeNull();
  expect(oneWay([[1, 3], [5]])).toMatchObject({ mean_square_within: 2, values: 3 });
});

test.each<readonly [number[][], string]>([
  [[], 'too-few-values: Scatter between groups needs at least 2 groups. Found: 0.'],
  [[[1, 2]], 'too-few-values: Scatter between groups needs at least 2 groups. Found: 1.'],
  [[[1], []], 'too-few-values: A group needs at least 1 values. Found: 0.'],
  [[[1], [Number.NaN]], 'argument-wrong: A group needs finite numbers. Found: NaN.'],
])('%j are refused', (groups, said) => {
  const { code, message } = errorOf(() => oneWay(groups));
  expect(`${code}: ${message}`).toBe(said);
});
