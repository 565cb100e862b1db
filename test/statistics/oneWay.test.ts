import { expect, test } from 'vitest';
import { oneWay } from '../../src/statistics/oneWay.js';
import { near } from '../near.js';

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

test('one group and empty groups are refused; groups of one value have no scatter within', () => {
  expect(() => oneWay([[1, 2]])).toThrow(/at least 2 groups/);
  expect(() => oneWay([[1], []])).toThrow(/at least 1/);
  expect(oneWay([[1], [2]]).mean_square_within).toBeNull();
});
