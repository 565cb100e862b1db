import { expect, test } from 'vitest';
import { combineIndependent } from '../../src/statistics/combineIndependent.js';
import { KNOWN_EXACTLY } from '../../src/vocabulary.js';
import { near } from '../near.js';

test('u² = Σu², ν = u⁴/Σ(u⁴/ν), done by hand (JCGM 100:2008, 5.1.2 and G.4.1)', () => {
  // 0.3² + 0.4² = 0.5²; 0.0625 / (0.0081/4 + 0.0256/9) = 0.0625 / 0.00486944 = 12.835
  const found = combineIndependent([
    { standardUncertainty: 0.3, dof: 4 },
    { standardUncertainty: 0.4, dof: 9 },
  ]);
  near(found.standardUncertainty, 0.5, 1e-12);
  near(found.dof, 12.835, 5e-4);
});

test('parts known exactly, of no size, or none at all leave no infinity', () => {
  const exact = { standardUncertainty: 0.1, dof: KNOWN_EXACTLY };
  expect(combineIndependent([exact]).dof).toBe(KNOWN_EXACTLY);
  expect(combineIndependent([{ standardUncertainty: 0, dof: 3 }])).toEqual({
    standardUncertainty: 0,
    dof: KNOWN_EXACTLY,
  });
  expect(combineIndependent([])).toEqual({ standardUncertainty: 0, dof: KNOWN_EXACTLY });
  const endless = { standardUncertainty: 0.1, dof: Number.POSITIVE_INFINITY };
  expect(() => combineIndependent([endless])).toThrow(/1000000/);
});
