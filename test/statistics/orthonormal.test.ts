import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  columnsOf,
  inner,
  invertUpper,
  isDependent,
  orthonormal,
  takeOut,
} from '../../src/statistics/orthonormal.js';
import { near } from '../near.js';

const SEED = { seed: 20260314 };
const column = fc.array(fc.double({ min: -100, max: 100, noNaN: true }), {
  minLength: 8,
  maxLength: 8,
});

describe('an orthonormal basis', () => {
  test('QR is the design and Q is orthonormal to the last digits', () => {
    fc.assert(
      fc.property(fc.array(column, { minLength: 1, maxLength: 4 }), (columns) => {
        const { q, r } = orthonormal(columns);
        if (isDependent({ q, r }, 1e-8)) return;
        columns.forEach((one, j) => {
          one.forEach((value, i) => {
            const back = q.reduce((sum, unit, k) => sum + unit[i]! * r[k]![j]!, 0);
            expect(Math.abs(back - value)).toBeLessThan(1e-12);
          });
          q.forEach((unit, k) => {
            expect(Math.abs(inner(unit, q[j]!) - (k === j ? 1 : 0))).toBeLessThan(1e-14);
          });
        });
      }),
      SEED,
    );
  });

  test('a column that is the sum of two others depends on them', () => {
    const [a, b] = [
      [1, 2, 3, 4],
      [1, -1, 1, -1],
    ];
    const basis = orthonormal([a!, b!, a!.map((value, i) => value + b![i]!)]);
    expect(isDependent(basis, 1e-12)).toBe(true);
    expect(isDependent(basis, 1e-12, 2)).toBe(false);
  });
});

test('Gram and Schmidt by hand: (3, 4) and (1, 0)', () => {
  // 5·(0.6, 0.8); (1, 0) has 0.6 of it and leaves (0.64, −0.48) = 0.8·(0.8, −0.6)
  const { q, r } = orthonormal([
    [3, 4],
    [1, 0],
  ]);
  [0.6, 0.8].forEach((value, i) => {
    near(q[0]![i], value, 1e-15);
  });
  [0.8, -0.6].forEach((value, i) => {
    near(q[1]![i], value, 1e-15);
  });
  [5, 0.6, 0, 0.8].forEach((value, i) => {
    near(r[i >> 1]![i & 1], value, 1e-15);
  });
});

test('a column of zeros stays zero', () => {
  const { q, r } = orthonormal([
    [0, 0],
    [2, 0],
  ]);
  expect(q.map((unit) => [...unit])).toEqual([
    [0, 0],
    [1, 0],
  ]);
  expect(r.map((row) => [...row])).toEqual([
    [0, 0],
    [0, 2],
  ]);
});

test('what is taken out is the part along the unit vector', () => {
  const rest = [2, 7];
  expect(takeOut(rest, [0, 1])).toBe(7);
  expect([...rest]).toEqual([2, 0]);
  expect(inner([1, 2, 3], [4, 5, 6])).toBe(32);
  expect(inner([], [])).toBe(0);
});

test('the inverse of an upper triangle', () => {
  // [[2, 4, 2], [0, 1, 3], [0, 0, 4]]: third column from below 1/4, −3/4, (0 + 4·3/4 − 2/4)/2 = 5/4
  expect(
    invertUpper([
      [2, 4, 2],
      [0, 1, 3],
      [0, 0, 4],
    ]),
  ).toEqual([
    [0.5, -2, 1.25],
    [0, 1, -0.75],
    [0, 0, 0.25],
  ]);
});

test.each([
  [[1, 0.25], 0.2, undefined, false],
  [[1, 0.25], 0.25, undefined, true],
  [[0.25, 1], 0.3, undefined, true],
  [[1, 1, 0.1], 0.2, undefined, true],
  [[1, 1, 0.1], 0.2, 3, true],
  [[1, 1, 0.1], 0.2, 2, false],
  // What comes later does not count towards the largest.
  [[0.1, 100], 0.2, 1, false],
  [[0], 0.2, undefined, true],
  [[Number.NaN], 0.2, undefined, true],
])('the diagonal %j at the tolerance %d, %s columns: dependent %s', (diagonal, at, count, is) => {
  const r = diagonal.map((size, j) => diagonal.map((_, k) => (j === k ? size : 9)));
  expect(isDependent({ q: [], r }, at, count)).toBe(is);
});

test('columns of rows', () => {
  const columns = columnsOf([
    [1, 2, 3],
    [4, 5, 6],
  ]);
  expect(columns.map((column) => [...column])).toEqual([
    [1, 4],
    [2, 5],
    [3, 6],
  ]);
  expect(columnsOf([])).toEqual([]);
});
