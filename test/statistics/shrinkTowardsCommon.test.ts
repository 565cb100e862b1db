import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { shrinkTowardsCommon } from '../../src/statistics/shrinkTowardsCommon.js';
import { near, nearly } from '../near.js';

interface Case {
  readonly y: readonly number[];
  readonly u: readonly number[];
  readonly drawn: readonly (readonly [number, number])[];
  readonly with_next: readonly number[];
}
const cases: Record<string, Case> = JSON.parse(
  readFileSync(new URL('../fixtures/powerLevels.json', import.meta.url), 'utf8'),
);

const estimates = (y: readonly number[], u: readonly number[]) =>
  y.map((value, i) => ({ value, standardUncertainty: u[i]! }));

// Rubin's eight schools (1981, as in the R package bayesmeta), the thirteen trials of Colditz and
// others (1994), and two levels: integrated adaptively by SciPy, test/fixtures/powerLevels.py
test.each(['schools', 'trials', 'two'])('%s: as SciPy integrates it', (name) => {
  const { y, u, drawn, with_next } = cases[name]!;
  const found = shrinkTowardsCommon(estimates(y, u));
  expect(found).toHaveLength(y.length);
  found.forEach((one, j) => {
    near(one.value, drawn[j]![0], 1e-4 * u[j]!);
    near(one.standardUncertainty, drawn[j]![1], 1e-4 * u[j]!);
    near(one.covarianceWithNext, with_next[j] ?? 0, 1e-4 * u[j]! * (u[j + 1] ?? 1));
  });
});

test('values far apart stay where they are, equal ones share their uncertainty', () => {
  const apart = shrinkTowardsCommon(estimates([0, 0.5, 1], [0.01, 0.01, 0.01]));
  apart.forEach((one, j) => {
    near(one.value, j / 2, 5e-4);
    near(one.standardUncertainty, 0.01, 1e-4);
    // They know nothing of each other.
    near(one.covarianceWithNext, 0, 1e-7);
  });
  const equal = shrinkTowardsCommon(estimates([0.3, 0.3, 0.3], [0.01, 0.01, 0.01]));
  for (const one of equal) {
    near(one.value, 0.3, 1e-12);
    // Better than one alone, never better than the mean of three that are known to be one value.
    expect(one.standardUncertainty).toBeLessThan(0.0085);
    expect(one.standardUncertainty).toBeGreaterThan(0.01 / Math.sqrt(3));
  }
  // What n equal ones gain they share: u₁² = u²·(b + (1 − b)/n), their covariance u²·(1 − b)/n.
  const gained = 0.01 ** 2 - equal[0]!.standardUncertainty ** 2;
  near(equal[0]!.covarianceWithNext, gained / 2, 1e-12);
});

test('each stays between its value and the span, and order, shift and scale do not matter', () => {
  const one = fc.record({
    y: fc.integer({ min: -500, max: 500 }).map((x) => x / 1000),
    u: fc.integer({ min: 1, max: 40 }).map((x) => x / 1000),
  });
  fc.assert(
    fc.property(fc.array(one, { minLength: 2, maxLength: 6 }), (list) => {
      const y = list.map((x) => x.y);
      const u = list.map((x) => x.u);
      const found = shrinkTowardsCommon(estimates(y, u));
      const turned = shrinkTowardsCommon(
        estimates([...y].reverse(), [...u].reverse()),
      ).toReversed();
      const moved = shrinkTowardsCommon(
        estimates(
          y.map((x) => 3 * x + 2),
          u.map((x) => 3 * x),
        ),
      );
      found.forEach((got, j) => {
        expect(got.value).toBeGreaterThanOrEqual(Math.min(...y) - 1e-12);
        expect(got.value).toBeLessThanOrEqual(Math.max(...y) + 1e-12);
        near(turned[j]!.value, got.value, 1e-9);
        near(moved[j]!.value, 3 * got.value + 2, 1e-9);
        near(moved[j]!.standardUncertainty, 3 * got.standardUncertainty, 1e-9);
      });
    }),
    { seed: 42, numRuns: 100 },
  );
});

test('too few, and uncertainties that are none', () => {
  expect(() => shrinkTowardsCommon(estimates([1], [1]))).toThrow(
    expect.objectContaining({ code: 'too-few-values' }),
  );
  for (const u of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) {
    expect(() => shrinkTowardsCommon(estimates([1, 2], [1, u]))).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  }
});

test('a unit as small or large as doubles hold changes nothing', () => {
  const [y, u] = [
    [1, 2, 4, 3, 0.5],
    [0.5, 1, 0.7, 2, 0.6],
  ];
  const plain = shrinkTowardsCommon(estimates(y!, u!));
  for (const unit of [1e-100, 1e100]) {
    const times = (values: readonly number[]) => values.map((value) => value * unit);
    shrinkTowardsCommon(estimates(times(y!), times(u!))).forEach((one, j) => {
      nearly(one.value / unit, plain[j]!.value, 1e-10);
      nearly(one.standardUncertainty / unit, plain[j]!.standardUncertainty, 1e-10);
      nearly(one.covarianceWithNext / unit ** 2, plain[j]!.covarianceWithNext, 1e-9);
    });
  }
});

test('two of equal uncertainty, far closer than it: by the prior alone', () => {
  // With y equal the likelihood of τ is that of one difference of 0: (1 + τ²)^(−½) for u = 1. Under the density
  // 1/(1 + τ)² each keeps own = τ²/(1 + τ²): u² = ∫ (own + (1 − own)/2)/∫, and the covariance (1 − own)/2.
  // SciPy 1.17.1: from scipy.integrate import quad; f=lambda g: quad(lambda p: (1+(p/(1-p))**2)**-.5*g((p/(1-p))**2),0,1)[0]
  // f(lambda t: (t+.5)/(1+t))/f(lambda t: 1), f(lambda t: .5/(1+t))/f(lambda t: 1)
  const two = shrinkTowardsCommon(estimates([3, 3], [1, 1]));
  near(two[0]!.standardUncertainty ** 2, 0.651139080862, 1e-4);
  near(two[1]!.standardUncertainty ** 2, 0.651139080862, 1e-4);
  near(two[0]!.covarianceWithNext, 0.348860919138, 1e-4);
  expect(two[1]!.covarianceWithNext).toBe(0);
  expect(two.map((one) => one.value)).toEqual([3, 3]);
});
