import { describe, expect, test } from 'vitest';
import { effectiveDof, requireDof } from '../../src/statistics/effectiveDof.js';
import { KNOWN_EXACTLY } from '../../src/vocabulary.js';
import { near } from '../near.js';

const part = (standard_uncertainty: number, dof: number) => ({ standard_uncertainty, dof });

test('(Σ u²)² / Σ u⁴/ν: of 3 with 4 and 4 with 8, 25² / (81/4 + 256/8)', () => {
  near(effectiveDof([part(3, 4), part(4, 8)]), 625 / (81 / 4 + 256 / 8), 1e-12);
});

test('a part known exactly adds to the variance alone, and alone it stays exact', () => {
  near(effectiveDof([part(3, 4), part(4, KNOWN_EXACTLY)]), 625 / (81 / 4), 1e-12);
  expect(effectiveDof([part(4, KNOWN_EXACTLY)])).toBe(KNOWN_EXACTLY);
  expect(effectiveDof([part(0, 3)])).toBe(KNOWN_EXACTLY);
  expect(effectiveDof([part(0.1, 3), part(0, 1)])).toBe(3);
});

describe('what is refused', () => {
  test.each([-0.1, Number.NaN, Number.POSITIVE_INFINITY])('an uncertainty of %d', (u) => {
    expect(() => effectiveDof([part(u, 4)])).toThrow('(standard_uncertainty) must be a finite');
  });

  test.each([0, -1, Number.NaN, Number.POSITIVE_INFINITY])('%d degrees of freedom', (dof) => {
    expect(() => effectiveDof([part(1, dof)])).toThrow('Degrees of freedom must be a finite');
  });
});

test.each([
  [[], KNOWN_EXACTLY],
  [[part(0, 5), part(0, 2)], KNOWN_EXACTLY],
  [[part(2, 7)], 7],
  // Equal parts add their degrees of freedom.
  [[part(2, 7), part(2, 7)], 14],
  [[part(1, 3), part(1, 3), part(1, 3)], 9],
  // Never below the smallest: 1.0000001²/(1/3) would be above 3, a share of 1e-40 adds nothing.
  [[part(1, 3), part(1e-20, 50)], 3],
  // Never above what stands for infinity
  [[part(1, 9e5), part(1, 9e5)], KNOWN_EXACTLY],
  [[part(1, 5e6)], KNOWN_EXACTLY],
  // Fourth powers of 1e-100 and 1e100 are no doubles.
  [[part(1e-100, 7), part(1e-100, 7)], 14],
  [[part(1e100, 7), part(1e100, 7)], 14],
])('of %j: %d', (parts, dof) => {
  near(effectiveDof(parts), dof, 1e-9 * dof);
});

test('each part needs degrees of freedom, that of zero as well', () => {
  expect(() => effectiveDof([part(1, 4), part(0, 0)])).toThrow('Degrees of freedom');
  expect(() => requireDof(0.1)).not.toThrow();
  expect(() => requireDof(1e7)).not.toThrow();
  expect(() => requireDof(0)).toThrow('1000000 for an uncertainty');
});
