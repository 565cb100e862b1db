import { expect, test } from 'vitest';
import { hull } from '../../src/statistics/summary.js';

test('the hull of intervals holds them all', () => {
  expect(
    hull([
      [3, 5],
      [1, 4],
    ]),
  ).toEqual([1, 5]);
  expect(hull([[2, 7]])).toEqual([2, 7]);
});
