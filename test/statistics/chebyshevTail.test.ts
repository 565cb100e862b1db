import { describe, expect, it } from 'vitest';
import { chebyshevTail, tailAt, tailIntegral } from '../../src/statistics/chebyshevTail.js';
import { normalCdf } from '../../src/statistics/distributions.js';

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
