import fc from 'fast-check';
import { expect, test } from 'vitest';
import { sortedPlaces } from '../../src/statistics/sortedPlaces.js';

test('places by size, equal ones in their order', () => {
  expect([...sortedPlaces([3, 1, 2, 1, 3])]).toEqual([1, 3, 2, 0, 4]);
  expect([...sortedPlaces([])]).toEqual([]);
  expect([...sortedPlaces(Float64Array.of(7))]).toEqual([0]);
});

test('by one list, then by another', () => {
  const from = sortedPlaces([2, 1, 0, 5]);
  expect([...from]).toEqual([2, 1, 0, 3]);
  expect([...sortedPlaces([1, 1, 1, 0], from)]).toEqual([3, 2, 1, 0]);
  // What it starts from stays.
  expect([...from]).toEqual([2, 1, 0, 3]);
});

test('as a sort that compares every two, in any size', () => {
  const values = fc.array(fc.integer({ min: -3, max: 3 }), { maxLength: 70 });
  fc.assert(
    fc.property(values, values, (a, b) => {
      const n = Math.min(a.length, b.length);
      const [x, y] = [a.slice(0, n), b.slice(0, n)];
      const sorted = [...x.keys()].sort((i, j) => x[i] - x[j] || y[i] - y[j]);
      expect([...sortedPlaces(x, sortedPlaces(y))]).toEqual(sorted);
    }),
  );
});
