import { expect, test } from 'vitest';
import { polynomialColumns, polynomialRow } from '../../src/statistics/polynomial.js';
import { near } from '../near.js';

test('Legendre polynomials at one half are those of the closed forms', () => {
  // Abramowitz and Stegun 1964, table 22.9 and 22.3.8: P₁ … P₅ of 0.5
  const expected = [0.5, -0.125, -0.4375, -0.2890625, 0.08984375];
  // 0.5 on [−1, 1] is three quarters of the way from 10 to 50.
  polynomialRow(40, 10, 50, 5).forEach((value, i) => {
    near(value, expected[i]!, 1e-15);
  });
});

test('at the ends every polynomial is ±1', () => {
  const [first, last] = polynomialColumns([3, 11], 4) as [number[], number[]];
  expect(first).toEqual([-1, 1, -1, 1]);
  expect(last).toEqual([1, 1, 1, 1]);
});

test('degree 0 gives empty rows, equal times give no trend', () => {
  expect(polynomialColumns([1, 2, 3], 0)).toEqual([[], [], []]);
  expect(polynomialRow(5, 5, 5, 1)).toEqual([0]);
});

test.each([
  // x = −1, −½, 0, 1 from 2 to 10; P₂ = (3x² − 1)/2, P₃ = (5x³ − 3x)/2
  [[2, 4, 6, 10], 1, [[-1], [-0.5], [0], [1]]],
  [
    [10, 6, 4, 2],
    3,
    [
      [1, 1, 1],
      [0, -0.5, 0],
      [-0.5, -0.125, 0.4375],
      [-1, 1, -1],
    ],
  ],
  [[7, 7], 1, [[0], [0]]],
])('times %j, degree %i', (times, degree, rows) => {
  expect(polynomialColumns(times, degree).map((row) => row.map((value) => value + 0))).toEqual(
    rows,
  );
});

test('one row beyond the range goes on', () => {
  // x = 2: P₂ = 5.5
  expect(polynomialRow(14, 2, 10, 2)).toEqual([2, 5.5]);
});
