import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bracketedRoot } from '../../src/statistics/bracketedRoot.js';

describe('bracketedRoot', () => {
  it('finds √2, whichever end comes first, and an end that is the root', () => {
    const f = (x: number) => x * x - 2;
    expect(Math.abs(bracketedRoot(f, 0, 2) - Math.SQRT2)).toBeLessThan(1e-14);
    expect(Math.abs(bracketedRoot(f, 2, 0) - Math.SQRT2)).toBeLessThan(1e-14);
    expect(bracketedRoot((x) => x, 0, 1)).toBe(0);
    expect(bracketedRoot((x) => x - 1, 0, 1)).toBe(1);
  });

  it('finds the root of curved functions in few steps', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.05, max: 0.95, noNaN: true }),
        fc.double({ min: -4, max: 4, noNaN: true }),
        (root, bend) => {
          let asked = 0;
          const f = (x: number) => {
            asked++;
            return Math.expm1(bend * (x - root)) + (x - root);
          };
          // With a bend below −1 the function has another root or none.
          fc.pre(f(0) * f(1) < 0);
          asked = 0;
          expect(Math.abs(bracketedRoot(f, 0, 1) - root)).toBeLessThan(1e-12);
          expect(asked).toBeLessThan(25);
        },
      ),
    );
  });
});
