import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { MeterpairError } from '../../src/error.js';
import { normalCdf } from '../../src/statistics/distributions.js';
import {
  noncentralStudentCdf,
  noncentralStudentQuantile,
} from '../../src/statistics/noncentralStudent.js';
import { near, nearly } from '../near.js';
import { errorOf } from '../record/support.js';

interface Fixture {
  readonly quantiles: readonly { p: number; dof: number; delta: number; quantile: number }[];
  readonly probabilities: readonly { t: number; dof: number; delta: number; cdf: number }[];
}
const fixture = JSON.parse(
  readFileSync(new URL('../fixtures/noncentralStudent.json', import.meta.url), 'utf8'),
) as Fixture;

describe('noncentral t agrees with 30-digit integration (mpmath) and SciPy', () => {
  test('quantiles to 1e-12 relative, from 1 to 999 degrees of freedom', () => {
    expect(fixture.quantiles.length).toBeGreaterThan(90);
    for (const { p, dof, delta, quantile } of fixture.quantiles) {
      near(noncentralStudentQuantile(p, dof, delta), quantile, 1e-12 * quantile);
    }
  });

  test('probabilities to 1e-14', () => {
    expect(fixture.probabilities.length).toBeGreaterThan(10);
    for (const { t, dof, delta, cdf } of fixture.probabilities) {
      near(noncentralStudentCdf(t, dof, delta), cdf, 1e-14);
    }
  });

  test('large noncentrality, where a series from exp(-δ²/2) has nothing left', () => {
    // SciPy 1.17.1: nct.cdf(39, 400, 38.9) and nct.cdf(50, 1e6, 49.9)
    near(noncentralStudentCdf(39, 400, 38.9), 0.5164657441134477, 1e-12);
    near(noncentralStudentCdf(50, 1e6, 49.9), 0.5397980900213846, 1e-12);
  });
});

test('without noncentrality it is Student’s t: closed forms for 1 and 2 degrees of freedom', () => {
  fc.assert(
    fc.property(fc.double({ min: -50, max: 50, noNaN: true }), (t) => {
      near(noncentralStudentCdf(t, 1, 0), 0.5 + Math.atan(t) / Math.PI, 1e-13);
      near(noncentralStudentCdf(t, 2, 0), 0.5 + t / (2 * Math.sqrt(2 + t * t)), 1e-13);
    }),
    { seed: 1, numRuns: 100 },
  );
});

test('at t = 0 it is the normal distribution function of −δ, whatever the degrees of freedom', () => {
  fc.assert(
    fc.property(
      fc.double({ min: -5, max: 5, noNaN: true }),
      fc.double({ min: 1, max: 1000, noNaN: true }),
      (delta, dof) => near(noncentralStudentCdf(0, dof, delta), normalCdf(-delta), 1e-14),
    ),
    { seed: 2, numRuns: 50 },
  );
});

test('the quantile is the inverse of the distribution function, and mirrors with its sign', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0.001, max: 0.999, noNaN: true }),
      fc.double({ min: 1, max: 500, noNaN: true }),
      fc.double({ min: -60, max: 60, noNaN: true }),
      (p, dof, delta) => {
        const t = noncentralStudentQuantile(p, dof, delta);
        near(noncentralStudentCdf(t, dof, delta), p, 1e-11);
        near(noncentralStudentQuantile(1 - p, dof, -delta), -t, 1e-8 * Math.max(1, Math.abs(t)));
      },
    ),
    { seed: 2, numRuns: 60 },
  );
});

test('impossible parameters are refused', () => {
  expect(() => noncentralStudentQuantile(1, 5, 1)).toThrow(/between 0 and 1/);
  expect(() => noncentralStudentCdf(1, 0, 1)).toThrow(/Degrees of freedom/);
  expect(() => noncentralStudentCdf(1, 5, Number.NaN)).toThrow(/noncentrality/);
  expect(() => noncentralStudentCdf(Number.POSITIVE_INFINITY, 5, 1)).toThrow(/finite/);
});

test('from 0.5 to 1e8 degrees of freedom and to ±1e5 of noncentrality, and no further', () => {
  // SciPy 1.17.1: t.cdf(2, .5), t.ppf([.001, .999], .5). Its nct.cdf(1e5, 1e8, 1e5) is off by 7e-7: mpmath, 30
  // digits, of the mean of Φ(t w − δ) over w, whose density is proportional to w^(ν − 1) exp(−ν w²/2)
  near(noncentralStudentCdf(2, 0.5, 0), 0.7772425549084343, 1e-12);
  nearly(noncentralStudentQuantile(0.999, 0.5, 0), 102849.11563018, 1e-11);
  nearly(noncentralStudentQuantile(0.001, 0.5, 0), -102849.11563018, 1e-11);
  near(noncentralStudentCdf(1e5, 1e8, 1e5), 0.4999814702485638, 1e-12);
  near(noncentralStudentCdf(-1e5, 1e8, -1e5), 0.5000185297514362, 1e-12);
  const wrong: (readonly [number, number, string])[] = [
    [0.49, 1, 'Degrees of freedom are out of range. Found: 0.49. Right would be: 0.5 to 1e8.'],
    [
      1.1e8,
      1,
      'Degrees of freedom are out of range. Found: 110000000. Right would be: 0.5 to 1e8.',
    ],
    [5, 100_001, 'The noncentrality is out of range. Found: 100001. Right would be: -1e5 to 1e5.'],
    [
      5,
      -100_001,
      'The noncentrality is out of range. Found: -100001. Right would be: -1e5 to 1e5.',
    ],
    [Number.NaN, 1, 'Degrees of freedom must be a finite number. Found: NaN.'],
    [5, Number.NaN, 'The noncentrality must be a finite number. Found: NaN.'],
  ];
  for (const [dof, noncentrality, said] of wrong) {
    for (const call of [
      () => noncentralStudentCdf(1, dof, noncentrality),
      () => noncentralStudentQuantile(0.5, dof, noncentrality),
    ]) {
      const { code, message } = errorOf(call);
      expect(`${code}: ${message}`).toBe(`argument-wrong: ${said}`);
    }
  }
});

test('the quantile of a heavy tail, seventeen orders out', () => {
  // SciPy 1.17.1: t.isf(1e-9, .5)
  nearly(noncentralStudentQuantile(1e-9, 0.5, 0), -1.0284911563163397e17, 1e-6);
});

test('where rounding leaves the distribution function below p for ever, it is not found', () => {
  // The sum of the weights is 1 but for its last digit, so 1 − 1e-16 is beyond some of these and not of others.
  const codes = Array.from({ length: 60 }, (_, i) => {
    try {
      return Number.isFinite(noncentralStudentQuantile(1 - 2 ** -53, i + 1, 0));
    } catch (error) {
      return (error as MeterpairError).code;
    }
  });
  expect(new Set(codes)).toEqual(new Set([true, 'no-convergence']));
});

test('far out the distribution function is 0 and 1', () => {
  expect(noncentralStudentCdf(-1e9, 50, 3)).toBe(0);
  expect(noncentralStudentCdf(1e9, 50, 3)).toBe(1);
  for (const p of [1e-9, 1 - 1e-9]) {
    near(noncentralStudentCdf(noncentralStudentQuantile(p, 2, 1), 2, 1), p, 1e-15);
  }
});
