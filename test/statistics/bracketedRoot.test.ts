import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bracketedRoot } from '../../src/statistics/bracketedRoot.js';
import { near } from '../near.js';

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

it.each([
  // No change of sign: the end that is nearer to zero, the second of two that are as near
  [(x: number) => x + 1, 0, 1, 0],
  [(x: number) => x - 3, 0, 1, 1],
  [(x: number) => -x - 1, 0, 1, 0],
  [() => 2, 0, 1, 1],
  [(x: number) => x, -1, 3, 0],
  [(x: number) => 5 - x, 10, 0, 5],
  // A jump across zero
  [(x: number) => (x < 0.3 ? -1 : 1), 0, 1, 0.3],
] as const)('%s between %d and %d: %d', (f, a, b, root) => {
  near(bracketedRoot(f, a, b), root, 1e-12);
});

it('asks seldom: a line three times, x⁹ never more than a hundred', () => {
  const asked = (f: (x: number) => number, a: number, b: number) => {
    let times = 0;
    bracketedRoot(
      (x) => {
        times++;
        return f(x);
      },
      a,
      b,
    );
    return times;
  };
  expect(asked((x) => 2 * x - 1, 0, 4)).toBeLessThanOrEqual(4);
  // One end is far steeper: without halving the end that stays it would take thousands.
  expect(asked((x) => x ** 9 - 1e-3, 0, 2)).toBeLessThan(100);
  expect(asked((x) => x ** 9 - 1e-3, 2, 0)).toBeLessThan(100);
  // At zero no step is small beside the place: both ends and two hundred places.
  expect(asked(Math.cbrt, -1, 2)).toBe(202);
});
