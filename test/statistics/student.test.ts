import { describe, expect, test } from 'vitest';
import { autocorrelation } from '../../src/statistics/autocorrelation.js';
import { standardDeviationInterval } from '../../src/statistics/standardDeviationInterval.js';
import { oneSampleStudent, twoSampleStudent, twoSidedP } from '../../src/statistics/student.js';
import { standardDeviation } from '../../src/statistics/summary.js';
import { welchHomogeneity } from '../../src/statistics/welchHomogeneity.js';
import { near } from '../near.js';
import { errorOf } from '../record/support.js';

test('two-sided p far out in the tail agrees with R', () => {
  // R 4.2.2, test/fixtures/agree.txt, line t.tail; relative tolerance 1e-6
  near(twoSidedP(12.6205912887, 326) / 5.2729354577e-30, 1, 1e-6);
  near(twoSidedP(-25, 9) / 1.2589450379e-9, 1, 1e-6);
  near(twoSidedP(6, 2.5) / 0.0152817298855, 1, 1e-6);
});

test('no scatter gives an interval of no width and no t', () => {
  expect(oneSampleStudent([3, 3, 3])).toMatchObject({ t: null, p: null, low: 3, high: 3 });
  expect(twoSampleStudent([3, 3], [1, 1])).toMatchObject({ t: null, p: null, estimate: 2, dof: 2 });
});

test('one value is too few', () => {
  expect(() => oneSampleStudent([3])).toThrow(/at least 2/);
  expect(() => twoSampleStudent([3, 4], [1])).toThrow(/at least 2/);
});

test('equal sizes and variances make Welch and pooled the same', () => {
  const first = [1, 2, 3, 4];
  const second = [5, 6, 7, 8];
  const welch = twoSampleStudent(first, second);
  const pooled = twoSampleStudent(first, second, { variances: 'pooled' });
  near(welch.dof, pooled.dof, 1e-12);
  near(welch.t, pooled.t ?? Number.NaN, 1e-12);
});

test('the interval of a standard deviation contains it and grows with confidence', () => {
  const [low, high] = standardDeviationInterval(2, 9);
  const [lower, higher] = standardDeviationInterval(2, 9, { confidence: 0.99 });
  expect([lower, low, 2, high, higher]).toEqual(
    [lower, low, 2, high, higher].sort((a, b) => a - b),
  );
  expect(() => standardDeviationInterval(-1, 9)).toThrow(/0 or above/);
});

test('the standard deviation of equal values is 0 and never NaN', () => {
  for (let n = 2; n < 200; n++) {
    for (const value of [0.1, 1 / 3, 1e-9, 123456.789]) {
      const sd = standardDeviation(new Array<number>(n).fill(value));
      expect(sd).toBeLessThanOrEqual(1e-15 * value);
    }
  }
});

test('autocorrelation: 1 at lag 0, negative for alternation, null without scatter', () => {
  expect(autocorrelation([1, 2, 1, 2], { lag: 0 })).toBe(1);
  expect(autocorrelation([1, 2, 1, 2])).toBe(-0.75);
  expect(autocorrelation([5, 5, 5])).toBeNull();
  expect(() => autocorrelation([1, 2])).toThrow(/at least 3/);
  expect(() => autocorrelation([1, 2, 3], { lag: 0.5 })).toThrow(/whole number/);
});

const record = (values: readonly number[], digits = 7) =>
  values.map((v) => expect.closeTo(v, digits));
const resultOf = (...values: [number, number, number, number, number, number, number]) => {
  const [estimate, standard_error, dof, t, p, low, high] = record(values);
  return { estimate, standard_error, dof, t, p, low, high };
};

test('one sample of 1 to 5 against 1, whole', () => {
  // Mean 3, s² = 10/4, s/√5 = √½, t = 2√2; SciPy 1.17.1: 2*t.sf(8**.5, 4), t.ppf([.975, .95], 4)
  const [se, t] = [Math.SQRT1_2, 2 * Math.SQRT2];
  const p = 0.04742065558431959;
  const half = 2.7764451051977934 * se;
  const values = [1, 2, 3, 4, 5];
  expect(oneSampleStudent(values, { hypothesis: 1 })).toEqual(
    resultOf(3, se, 4, t, p, 3 - half, 3 + half),
  );
  const narrow = 2.1318467863266495 * se;
  // From the other side t has the other sign and the same p.
  expect(oneSampleStudent(values, { hypothesis: 5, confidence: 0.9 })).toEqual(
    resultOf(3, se, 4, -t, p, 3 - narrow, 3 + narrow),
  );
  // Against 0 where nothing is said
  expect(oneSampleStudent(values).t).toBeCloseTo(3 / se, 12);
  expect(oneSampleStudent([-1, 1])).toMatchObject({ t: 0, p: 1 });
});

test('two samples of unequal size, whole', () => {
  // SciPy 1.17.1: ttest_ind([1,2,3,4,10], [2,2.5,3.5], equal_var=False) and =True, their intervals
  const [first, second] = [
    [1, 2, 3, 4, 10],
    [2, 2.5, 3.5],
  ];
  const estimate = 4 - 8 / 3;
  const welch = { t: 0.8122769321068953, p: 0.4566657197080954, dof: 4.5908758233715545 };
  expect(twoSampleStudent(first!, second!, { confidence: 0.9 })).toEqual(
    resultOf(
      estimate,
      estimate / welch.t,
      welch.dof,
      welch.t,
      welch.p,
      -2.040560608366,
      4.707227275032666,
    ),
  );
  const pooled = { t: 0.6252035499158348, p: 0.5548548857272013, dof: 6 };
  expect(twoSampleStudent(first!, second!, { variances: 'pooled' })).toEqual(
    resultOf(
      estimate,
      estimate / pooled.t,
      pooled.dof,
      pooled.t,
      pooled.p,
      -3.885045761441764,
      6.551712428108431,
    ),
  );
});

test('where one sample does not scatter, the other has all degrees of freedom', () => {
  // s² = 1, se = √(1/3)
  for (const [first, second, sign] of [
    [[1, 2, 3], [5, 5], -1],
    [[5, 5], [1, 2, 3], 1],
  ] as const) {
    const found = twoSampleStudent(first, second);
    expect(found).toMatchObject({ estimate: 3 * sign, dof: 2 });
    near(found.standard_error, Math.sqrt(1 / 3), 1e-15);
    near(found.t, 3 * sign * Math.sqrt(3), 1e-12);
  }
  // Neither scatters: half of each share, 1/(¼/(3 − 1) + ¼/(2 − 1)) = 8/3
  near(twoSampleStudent([3, 3, 3], [1, 1]).dof, 8 / 3, 1e-12);
});

test.each<readonly [() => unknown, string]>([
  [() => oneSampleStudent([1, 2], { confidence: 95 }), 'argument-wrong: The confidence'],
  [() => oneSampleStudent([1]), "too-few-values: Student's t"],
  [() => oneSampleStudent([1, Number.NaN]), "argument-wrong: Student's t"],
  [() => twoSampleStudent([1], [1, 2]), "too-few-values: Student's t"],
  [() => twoSampleStudent([1, 2], [1]), "too-few-values: Student's t"],
  [() => twoSampleStudent([1, 2], [1, 2], { confidence: 0 }), 'argument-wrong: confidence'],
  [() => twoSampleStudent([1, 2], [1, 2], { variances: 'equal' as never }), 'argument-wrong: var'],
])('refused: %s', (call, said) => {
  const { code, message } = errorOf(call);
  expect(`${code}: ${message}`.slice(0, said.length)).toBe(said);
});

describe('Welch’s test that means are equal', () => {
  const of = (...parts: (readonly [number, number, number])[]) =>
    welchHomogeneity(
      parts.map(([value, standardUncertainty, dof]) => ({ value, standardUncertainty, dof })),
    );

  test('two, by hand', () => {
    // Weights 1: between 2; λ = 2·(1/2)²/4 = 1/8, ν₂ = 3/(3/8); SciPy 1.17.1: f.sf(2, 1, 8)
    expect(of([0, 1, 4], [2, 1, 4])).toEqual({
      f: 2,
      dof1: 1,
      dof2: 8,
      p: expect.closeTo(0.19501552810007586, 8),
    });
  });

  test('three of unequal weight, by hand', () => {
    // Weights 1, 1, ¼ of 9/4; mean (0 + 3 + 3/2)/(9/4) = 2; between 4 + 1 + 4 = 9. (1 − w/Σ)² = (5/9)²
    // twice and (8/9)²; λ = (25/2 + 25/5 + 64/10)/81 = 23.9/81; F = 9/2/(1 + 2λ/8), ν₂ = 8/(3 λ)
    const lambda = 23.9 / 81;
    const found = of([0, 1, 2], [3, 1, 5], [6, 2, 10]);
    near(found.f, 4.5 / (1 + lambda / 4), 1e-12);
    expect(found.dof1).toBe(2);
    near(found.dof2, 8 / (3 * lambda), 1e-12);
    // F of 2 and ν: P(F > f) = (1 + 2f/ν)^(−ν/2)
    near(found.p, (1 + (2 * found.f) / found.dof2) ** (-found.dof2 / 2), 1e-8);
  });

  test('what is known exactly stays finite', () => {
    // λ = 2·¼/1e6, 3/(3 λ) = 2e6
    expect(of([0, 1, 1e6], [0, 1, 1e6])).toEqual({ f: 0, dof1: 1, dof2: 1e6, p: 1 });
  });

  test.each([
    [[[0, 1, 4]], 'at least two means'],
    [[], 'at least two means'],
    [
      [
        [0, 1, 4],
        [0, 0, 4],
      ],
      'must be above 0',
    ],
    [
      [
        [0, 1, 4],
        [0, 1, 0],
      ],
      'must be above 0',
    ],
    [
      [
        [0, Number.NaN, 4],
        [0, 1, 4],
      ],
      'must be above 0',
    ],
    [
      [
        [0, 1, Number.NaN],
        [0, 1, 4],
      ],
      'must be above 0',
    ],
  ] as const)('%j: %s', (parts, said) => {
    const error = errorOf(() => of(...(parts as never as [number, number, number][])));
    expect(error.code).toBe('argument-wrong');
    expect(error.message).toContain(said);
  });
});
