import { describe, expect, test } from 'vitest';
import { effectiveDof } from '../../src/statistics/effectiveDof.js';
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
