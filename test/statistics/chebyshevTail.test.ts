import { describe, expect, it } from 'vitest';
import {
  chebyshevTail,
  knotsOf,
  tailAt,
  tailIntegral,
} from '../../src/statistics/chebyshevTail.js';
import { normalCdf } from '../../src/statistics/distributions.js';
import { near } from '../near.js';

describe('chebyshevTail', () => {
  const normal = chebyshevTail((x) => normalCdf(-x), [0, 2, 9], Number.POSITIVE_INFINITY);

  it('follows the normal tail and mirrors it below zero', () => {
    for (const x of [0, 0.1, 0.77, 1.96, 2, 5.5, 8.99]) {
      expect(Math.abs(tailAt(normal, x) - normalCdf(-x))).toBeLessThanOrEqual(1e-9);
      expect(Math.abs(tailAt(normal, -x) - normalCdf(x))).toBeLessThanOrEqual(1e-9);
    }
    expect(tailAt(normal, 10)).toBe(0);
  });

  it('integrates it: ∫ from 0 to x of Q is x Q(x) + φ(0) − φ(x)', () => {
    const density = (x: number) => Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);
    const upTo = (x: number) => x * normalCdf(-x) + density(0) - density(x);
    const atOne = upTo(1);
    for (const x of [0.3, 1, 2, 4, 8]) {
      const closed = upTo(x);
      expect(Math.abs(tailIntegral(normal, 0, x) - closed)).toBeLessThanOrEqual(1e-9);
      // Q(−x) = 1 − Q(x).
      expect(Math.abs(tailIntegral(normal, -1, x) - (1 - atOne + closed))).toBeLessThanOrEqual(
        1e-9,
      );
      expect(Math.abs(tailIntegral(normal, -x, 0) - (x - closed))).toBeLessThanOrEqual(1e-9);
    }
  });

  it('finds the corners of a rectangle and the root at the end of an arcsine', () => {
    const corner = chebyshevTail(
      (x) => Math.max(0, (1 - x / 0.3) / 2),
      [0, 1],
      Number.POSITIVE_INFINITY,
    );
    const root = chebyshevTail(
      (x) => (x >= 1 ? 0 : Math.acos(x) / Math.PI),
      [0, 1],
      Number.POSITIVE_INFINITY,
    );
    for (const x of [0.1, 0.299, 0.3, 0.301, 0.7]) {
      expect(Math.abs(tailAt(corner, x) - Math.max(0, (1 - x / 0.3) / 2))).toBeLessThan(1e-7);
    }
    for (const x of [0.1, 0.9, 0.999, 0.999999]) {
      expect(Math.abs(tailAt(root, x) - Math.acos(x) / Math.PI)).toBeLessThan(1e-7);
    }
  });

  it('goes on as a power beyond its end', () => {
    const cauchy = (x: number) => Math.atan2(1, x) / Math.PI;
    const tail = chebyshevTail(cauchy, [0, 1, 10, 100, 1e4], 1);
    expect(tailAt(tail, 1e7) / cauchy(1e7)).toBeCloseTo(1, 3);
  });

  it('takes from the table of nearly the same function where to halve, and asks less', () => {
    const breaks = [0, 1, 3, 12];
    const first = chebyshevTail((x) => normalCdf(-x), breaks, Number.POSITIVE_INFINITY);
    const wider = (x: number) => normalCdf(-x / 1.001);
    const asked = (like: typeof first | null) => {
      let times = 0;
      const count = (x: number) => {
        times += 1;
        return wider(x);
      };
      const tail = chebyshevTail(count, breaks, Number.POSITIVE_INFINITY, like);
      const values = [0.4, 1.7, 3.2, 5.5].map((x) => tailAt(tail, x));
      return { times, values };
    };
    const [alone, beside] = [asked(null), asked(first)];
    expect(beside.values).toEqual(alone.values);
    expect(beside.times).toBeLessThan(0.7 * alone.times);
  });
});

/** Tₖ by its own definition, and its integral (Abramowitz and Stegun 1964, 22.3.15 and 22.13). */
const cheb = (k: number, at: number) => Math.cos(k * Math.acos(Math.max(-1, Math.min(1, at))));
const chebIntegral = (k: number, at: number): number =>
  k === 0
    ? at
    : k === 1
      ? at ** 2 / 2
      : cheb(k + 1, at) / (2 * (k + 1)) - cheb(k - 1, at) / (2 * (k - 1));
/** Tₖ on a range of any width, as a tail: Q = size·Tₖ, on pieces from break to break. */
const tailOf = (k: number, breaks: readonly number[], size = 1) => {
  const [low, high] = [breaks[0]!, breaks.at(-1)!];
  const onUnit = (x: number) => (2 * (x - low)) / (high - low) - 1;
  let asked = 0;
  const tail = chebyshevTail(
    (x) => {
      asked++;
      return size * cheb(k, onUnit(x));
    },
    breaks,
    Number.POSITIVE_INFINITY,
  );
  return { tail, onUnit, asked: () => asked };
};

describe('each Chebyshev polynomial, on one piece', () => {
  it.each([0, 1, 2, 3, 4, 5, 6, 7])('T%i is kept as it is, and its integral', (k) => {
    const { tail, onUnit, asked } = tailOf(k, [0, 3]);
    const upTo = (x: number) => 1.5 * (chebIntegral(k, onUnit(x)) - chebIntegral(k, -1));
    const at = [0, 0.2, 1, 1.5, 2.3, 3];
    for (const x of at) {
      near(tailAt(tail, x), cheb(k, onUnit(x)), 1e-13);
      for (const from of at.filter((one) => one <= x)) {
        near(tailIntegral(tail, from, x), upTo(x) - upTo(from), 1e-13);
      }
    }
    // Eleven points tell a polynomial of degree 10, and nothing is asked twice.
    expect(knotsOf(tail)).toEqual([0, 3]);
    expect(asked()).toBe(11);
  });

  // Each of the last three coefficients counts, of either sign, against 5e-9
  it.each([8, 9, 10].flatMap((k) => [1, -1].map((sign) => [k, sign] as const)))(
    'T%i of sign %i is halved above the tolerance alone',
    (k, sign) => {
      expect(knotsOf(tailOf(k, [0, 2], sign * 4.9e-9).tail)).toEqual([0, 2]);
      expect(knotsOf(tailOf(k, [0, 2], sign * 5.1e-9).tail)).toEqual([0, 1, 2]);
    },
  );

  it.each([8, 9, 10])('T%i below the tolerance is kept as well, and its integral', (k) => {
    const { tail, onUnit } = tailOf(k, [0, 2], 4e-9);
    for (const x of [0.1, 0.7, 1.3, 2]) {
      near(tailAt(tail, x), 4e-9 * cheb(k, onUnit(x)), 1e-20);
      const upTo = chebIntegral(k, onUnit(x)) - chebIntegral(k, -1);
      near(tailIntegral(tail, 0, x), 4e-9 * upTo, 1e-20);
    }
  });

  it.each([8, 9, 10])('T%i is followed through its halves', (k) => {
    const { tail, onUnit } = tailOf(k, [0, 2]);
    for (const x of [0, 0.3, 0.5, 1, 1.25, 1.999, 2]) {
      near(tailAt(tail, x), cheb(k, onUnit(x)), 1e-9);
      const upTo = chebIntegral(k, onUnit(x)) - chebIntegral(k, -1);
      near(tailIntegral(tail, 0, x), upTo, 1e-9);
    }
  });
});

describe('pieces', () => {
  it('are made when they are asked for, each from break to break', () => {
    const { tail, asked } = tailOf(1, [0, 1, 4, 6]);
    expect(asked()).toBe(0);
    near(tailAt(tail, 2), -1 / 3, 1e-14);
    expect(asked()).toBe(11);
    near(tailAt(tail, 1), -2 / 3, 1e-14);
    expect(asked()).toBe(11);
    near(tailAt(tail, 4), 1 / 3, 1e-14);
    expect(asked()).toBe(22);
    // ∫ x/3 − 1 from 2 to 5 = 21/6 − 3
    near(tailIntegral(tail, 2, 5), 0.5, 1e-14);
    near(tailIntegral(tail, 4, 6), 4 / 3, 1e-14);
    expect(asked()).toBe(22);
    expect(tailIntegral(tail, 3, 3)).toBe(0);
    expect(knotsOf(tail)).toEqual([0, 1, 4, 6]);
    expect(asked()).toBe(33);
  });

  it('are halved fifty times at a jump, and no more', () => {
    const jump = chebyshevTail((x) => (x < 0.3 ? 0.5 : 0.25), [0, 1], Number.POSITIVE_INFINITY);
    const knots = knotsOf(jump);
    // Each halving leaves one half without the jump; the last leaves two.
    expect(knots).toHaveLength(52);
    expect(Math.min(...knots.slice(1).map((knot, i) => knot - knots[i]!))).toBe(2 ** -50);
    expect(tailAt(jump, 0.299)).toBeCloseTo(0.5, 12);
    expect(tailAt(jump, 0.301)).toBeCloseTo(0.25, 12);
    near(tailIntegral(jump, 0, 1), 0.5 * 0.3 + 0.25 * 0.7, 1e-12);
  });

  it('beyond the last break there is nothing, or a power of x', () => {
    const half = (decay: number) => chebyshevTail(() => 0.25, [0, 2], decay);
    expect(tailAt(half(3), 2)).toBeCloseTo(0.25, 14);
    expect(tailAt(half(3), 4)).toBeCloseTo(0.25 / 8, 14);
    expect(tailAt(half(3), -4)).toBeCloseTo(1 - 0.25 / 8, 14);
    expect(tailAt(half(Number.POSITIVE_INFINITY), 2)).toBeCloseTo(0.25, 14);
    expect(tailAt(half(Number.POSITIVE_INFINITY), 2.001)).toBe(0);
    expect(tailAt(half(Number.POSITIVE_INFINITY), -2.001)).toBe(1);
    near(tailIntegral(half(3), 1, 9), 0.25, 1e-14);
    expect(tailIntegral(half(3), 2, 9)).toBe(0);
  });

  it.each([
    // ∫ of 1/4 above zero and 3/4 below
    [-2, -1, 0.75],
    [-1, 2, 0.75 + 0.5],
    [-2, 1, 1.5 + 0.25],
    [-1, 1, 1],
    [-1, 0, 0.75],
    [0, 2, 0.5],
    [1, 2, 0.25],
    // Beyond the break the other side is 1.
    [-5, -1, 3 + 0.75],
    [-5, 5, 5],
  ])('from %d to %d the integral is %d', (from, to, expected) => {
    const even = chebyshevTail(() => 0.25, [0, 2], Number.POSITIVE_INFINITY);
    near(tailIntegral(even, from, to), expected, 1e-14);
  });
});

describe('a table of nearly the same function', () => {
  const BREAKS = [0, 2];
  const made = (size: number, like: ReturnType<typeof chebyshevTail> | null) => {
    let asked = 0;
    const tail = chebyshevTail(
      (x) => {
        asked++;
        return size * cheb(8, x - 1);
      },
      BREAKS,
      Number.POSITIVE_INFINITY,
      like,
    );
    const knots = knotsOf(tail);
    return { tail, knots, asked };
  };

  it.each([
    // Ten times the tolerance of 5e-9 is clear.
    [4.9e-8, 33],
    [5.1e-8, 22],
  ])('halved there at %d: here %i values are asked for', (size, asked) => {
    const like = made(size, null);
    expect(like).toMatchObject({ knots: [0, 1, 2], asked: 33 });
    expect(made(size, like.tail)).toMatchObject({ knots: [0, 1, 2], asked });
  });

  it('one that was not halved, or with other breaks, tells nothing', () => {
    const whole = made(1e-9, null);
    expect(whole).toMatchObject({ knots: [0, 2], asked: 11 });
    expect(made(1e-7, whole.tail)).toMatchObject({ knots: [0, 1, 2], asked: 33 });
    const other = chebyshevTail((x) => 1e-7 * cheb(8, x - 1), [0, 2, 3], 1);
    expect(made(1e-7, other)).toMatchObject({ asked: 33 });
    expect(made(1e-7, made(1e-7, null).tail)).toMatchObject({ asked: 22 });
  });

  it('the halves take it from the halves: a table like a table asks for the leaves alone', () => {
    const jump = (at: number) => {
      let asked = 0;
      return {
        tail: (x: number) => {
          asked++;
          return x < at ? 0.5 : 0;
        },
        asked: () => asked,
      };
    };
    const [first, second] = [jump(0.3), jump(0.3)];
    const alone = chebyshevTail(first.tail, [0, 1], 1);
    const knots = knotsOf(alone);
    // 50 halved pieces and 51 leaves
    expect(first.asked()).toBe(11 * 101);
    expect(knotsOf(chebyshevTail(second.tail, [0, 1], 1, alone))).toEqual(knots);
    expect(second.asked()).toBe(11 * 51);
  });
});
