import { describe, expect, test } from 'vitest';
import {
  extremes,
  hull,
  mean,
  requireValues,
  standardDeviation,
} from '../../src/statistics/summary.js';
import { near } from '../near.js';
import { errorOf } from '../record/support.js';

test('the hull of intervals holds them all', () => {
  expect(
    hull([
      [3, 5],
      [1, 4],
    ]),
  ).toEqual([1, 5]);
  expect(hull([[2, 7]])).toEqual([2, 7]);
});

describe('values that are enough and finite', () => {
  const NAN = Number.NaN;
  test.each<readonly [unknown, number, string]>([
    [[1], 2, 'too-few-values: It needs at least 2 values. Found: 1.'],
    [[], 1, 'too-few-values: It needs at least 1 values. Found: 0.'],
    // Few come before not finite, texts before both.
    [[NAN], 2, 'too-few-values: It needs at least 2 values. Found: 1.'],
    [['1'], 2, 'argument-wrong: It must be a list of numbers. Found: the text "1".'],
    [[1, NAN, 3], 2, 'argument-wrong: It needs finite numbers. Found: NaN.'],
    [
      [1, 2, Number.POSITIVE_INFINITY],
      0,
      'argument-wrong: It needs finite numbers. Found: Infinity.',
    ],
    ['12', 0, 'argument-wrong: It must be a list. Found: the text "12". Right would be: an array.'],
  ])('%j, at least %i', (values, least, said) => {
    const { code, message } = errorOf(() => requireValues(values as number[], least, 'It'));
    expect(`${code}: ${message}`).toBe(said);
  });

  test.each([
    [[], 0],
    [[1], 1],
    [[1, 2, 3], 2],
    [new Float64Array(2), 2],
  ])('%j are at least %i', (values, least) => {
    expect(() => requireValues(values as number[], least, 'It')).not.toThrow();
  });
});

test('mean and standard deviation by hand', () => {
  expect(mean([4])).toBe(4);
  expect(mean([1, 2, 6])).toBe(3);
  // Deviations −2, −1, 3: 14/2
  near(standardDeviation([1, 2, 6]), Math.sqrt(7), 1e-15);
  expect(standardDeviation([1, 3])).toBe(Math.SQRT2);
  expect(errorOf(() => mean([])).message).toBe('A mean needs at least 1 values. Found: 0.');
  expect(errorOf(() => standardDeviation([1])).message).toBe(
    'A standard deviation needs at least 2 values. Found: 1.',
  );
});

test('a mean that no double holds leaves nothing in the standard deviation', () => {
  // Doubles about 1e16 are 2 apart: the mean 1e16 + 4/3 becomes 1e16 + 2. The variance of 0, 2, 2 is 4/3.
  near(standardDeviation([1e16, 1e16 + 2, 1e16 + 2]), Math.sqrt(4 / 3), 1e-15);
});

test.each([
  [[3], [3, 3]],
  [
    [2, -1, 5, 0],
    [-1, 5],
  ],
  [
    [5, 4, 3],
    [3, 5],
  ],
  [[], [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]],
  [
    [1, Number.NaN],
    [Number.NaN, Number.NaN],
  ],
])('extremes of %j', (values, ends) => {
  expect(extremes(values)).toEqual(ends);
});
