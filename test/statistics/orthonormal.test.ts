import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { inner, isDependent, orthonormal } from '../../src/statistics/orthonormal.js';

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
