import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  chiSquareCdf,
  chiSquareQuantile,
  coverageFactor,
  coverageFactorOf,
  fCdf,
  logGamma,
  normalCdf,
  normalQuantile,
  studentCdf,
  studentQuantile,
} from '../../src/statistics/distributions.js';
import { near } from '../near.js';
import { errorOf } from '../record/support.js';
import { core } from './core.js';

/** Greatest relative distance from the numbers of R 4.2.2; absolute where R says 0. */
function distance(found: readonly number[], name: string): number {
  const expected = core(name);
  expect(found).toHaveLength(expected.length);
  return Math.max(
    ...found.map(
      (value, i) => Math.abs(value - expected[i]!) / Math.max(Math.abs(expected[i]!), 1e-3),
    ),
  );
}

describe('agreement with R; the tolerance is the accuracy that is claimed for the borrowed code', () => {
  test('Student’s t, from 1 to a million degrees of freedom', () => {
    // The worst is 2.9e-8, at a million; up to 30 degrees of freedom it is below 3e-9.
    const dof = [1, 1.5, 2, 3, 5, 8, 12.3, 30, 100, 1e6];
    expect(
      distance(
        dof.map((nu) => studentQuantile(0.975, nu)),
        't.975',
      ),
    ).toBeLessThan(3e-8);
    const t = [-4, -1, 0.3, 2.5, 7];
    const nu = [1.2, 3, 5.5, 9, 40];
    expect(
      distance(
        t.map((x, i) => studentCdf(x, nu[i]!)),
        't.cdf',
      ),
    ).toBeLessThan(1e-8);
  });

  test('chi-square', () => {
    const nu = [1, 2, 5, 12, 40.5];
    const x = [0.5, 2, 8, 12, 50];
    expect(
      distance(
        nu.map((v) => chiSquareQuantile(0.95, v)),
        'chisq.95',
      ),
    ).toBeLessThan(1e-8);
    expect(
      distance(
        nu.map((v, i) => chiSquareCdf(x[i]!, v)),
        'chisq.cdf',
      ),
    ).toBeLessThan(1e-8);
  });

  test('Fisher’s F', () => {
    const nu1 = [1, 2, 5, 4];
    const nu2 = [3, 7.5, 10, 60];
    const x = [0.5, 2, 4, 9];
    expect(
      distance(
        nu1.map((v, i) => fCdf(x[i]!, v, nu2[i]!)),
        'f.cdf',
      ),
    ).toBeLessThan(1e-8);
  });

  test('normal distribution and gamma function', () => {
    expect(distance([0.5, 0.9, 0.975, 0.999, 1e-6].map(normalQuantile), 'z')).toBeLessThan(1e-8);
    expect(distance([-3, -1, 0, 1.96, 4].map(normalCdf), 'z.cdf')).toBeLessThan(1e-8);
    expect(distance([0.1, 0.5, 3, 10.5, 200].map(logGamma), 'lgamma')).toBeLessThan(1e-8);
  });
});

test('a quantile put into the distribution function comes back', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 999 }).map((x) => x / 1000),
      fc.integer({ min: 10, max: 2000 }).map((x) => x / 10),
      (p, dof) => {
        expect(Math.abs(studentCdf(studentQuantile(p, dof), dof) - p)).toBeLessThan(1e-7);
        expect(Math.abs(chiSquareCdf(chiSquareQuantile(p, dof), dof) - p)).toBeLessThan(1e-7);
      },
    ),
    { seed: 2, numRuns: 100 },
  );
});

test('the coverage factor falls as the degrees of freedom grow and rises with the confidence', () => {
  const factors = [1, 1.01, 1.7, 2, 3, 7.5, 20, 100, 1e4, 1e6].map((nu) =>
    coverageFactor(0.95, nu),
  );
  for (let i = 1; i < factors.length; i++) expect(factors[i]).toBeLessThan(factors[i - 1]!);
  expect(coverageFactor(0.99, 5)).toBeGreaterThan(coverageFactor(0.95, 5));
});

test('probabilities outside (0, 1) and degrees of freedom at or below zero are refused', () => {
  for (const p of [0, 1, -0.1, Number.NaN]) {
    expect(errorOf(() => studentQuantile(p, 3)).code).toBe('argument-wrong');
    expect(errorOf(() => normalQuantile(p)).code).toBe('argument-wrong');
  }
  for (const dof of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) {
    expect(errorOf(() => studentCdf(1, dof)).code).toBe('argument-wrong');
    expect(errorOf(() => chiSquareQuantile(0.5, dof)).code).toBe('argument-wrong');
    expect(errorOf(() => fCdf(1, dof, 3)).code).toBe('argument-wrong');
  }
});

test('below zero there is nothing of chi-square and F, and half of Student’s t', () => {
  expect([-1, 0].map((x) => chiSquareCdf(x, 3))).toEqual([0, 0]);
  expect([-1, 0].map((x) => fCdf(x, 3, 4))).toEqual([0, 0]);
  // χ² of 2: 1 − exp(−x/2); F of 2 and 2: x/(1 + x)
  near(chiSquareCdf(1e-6, 2), 5e-7, 1e-11);
  near(fCdf(3, 2, 2), 0.75, 1e-10);
  expect(studentQuantile(0.5, 3)).toBe(0);
  near(studentCdf(0, 3), 0.5, 1e-8);
});

test('the coverage factor is two-sided, and the normal one for what is known exactly', () => {
  // SciPy 1.17.1: t.ppf([.975, .95], 4), t.ppf(.975, 1e6), norm.ppf(.975)
  near(coverageFactor(0.95, 4), 2.7764451051977934, 1e-7);
  near(coverageFactor(0.9, 4), 2.1318467863266495, 1e-7);
  near(coverageFactorOf(0.95, 4), 2.7764451051977934, 1e-7);
  near(coverageFactorOf(0.95, 1e6), 1.959963984540054, 1e-9);
  near(coverageFactorOf(0.95, 2e6), 1.959963984540054, 1e-9);
  // One below is still a t: wider by 2.4e-6
  expect(coverageFactorOf(0.95, 999_999)).toBeGreaterThan(1.95996606);
});

test.each<readonly [() => unknown, string]>([
  [() => coverageFactor(95, 4), 'The confidence'],
  [() => coverageFactorOf(1, 4), 'The confidence'],
  [() => coverageFactorOf(1, 1e6), 'A probability'],
  [() => coverageFactor(0.95, 0), 'Degrees of freedom'],
  [() => studentQuantile(0, 4), 'A probability'],
  [() => studentQuantile(0.5, 0), 'Degrees of freedom'],
  [() => chiSquareQuantile(1, 4), 'A probability'],
  [() => chiSquareQuantile(0.5, -1), 'Degrees of freedom'],
  [() => chiSquareCdf(1, 0), 'Degrees of freedom'],
  [() => fCdf(1, 0, 1), 'Degrees of freedom'],
  [() => fCdf(1, 1, 0), 'Degrees of freedom'],
])('refused: %s', (call, said) => {
  const { code, message } = errorOf(call);
  expect(code).toBe('argument-wrong');
  expect(message.slice(0, said.length)).toBe(said);
});

test('Student’s t in the middle, with very many degrees of freedom', () => {
  // SciPy 1.17.1: stats.t.cdf(t, dof)
  const t = [-0.45, -0.1, -0.01, 0, 0.03, 0.3];
  const of = (dof: number) => t.map((value) => studentCdf(value, dof));
  [
    0.3263552690604511, 0.4601721727460216, 0.4960106446827738, 0.5, 0.5119664704207003,
    0.617911391010503,
  ].forEach((expected, i) => {
    near(of(1e6)[i], expected, 1e-8);
  });
  near(of(2e5)[1], 0.46017221283819865, 1e-8);
  near(of(2e5)[5], 0.6179112662967874, 1e-8);
  // Out in the tail every digit of the small number counts.
  near(studentCdf(-8, 1e6) / 6.227531716601252e-16, 1, 1e-6);
  // Below a hundred thousand, and from a half outwards, as ever
  near(studentCdf(0.01, 1e5), 0.503989346341, 1e-5);
});
