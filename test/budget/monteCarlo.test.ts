import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { numericalTolerance } from '../../src/budget/adaptiveTrials.js';
import {
  checkByMonteCarlo,
  combineContributions,
  compareWithLinear,
  type InputDistribution,
  monteCarlo,
  type ShapedContribution,
} from '../../src/budget/index.js';
import { coverageFactor } from '../../src/statistics/distributions.js';
import { KNOWN_EXACTLY } from '../../src/vocabulary.js';

const normal = (value: number, standard_uncertainty: number): InputDistribution => ({
  shape: 'normal',
  value,
  standard_uncertainty,
});

describe('numericalTolerance', () => {
  it.each([
    // JCGM 101:2008, 7.9.2, examples 1 to 3 (from memory): 0.000 35 with two digits δ = 0.000 005,
    // with one digit 0.000 05; 2 with one digit 0.5.
    [0.00035, 2, 0.000005],
    [0.00035, 1, 0.00005],
    [2, 1, 0.5],
    [0.0996, 2, 0.005],
    [0, 2, 0],
  ] as const)('of u = %f with %i digits is %f', (u, digits, delta) => {
    expect(numericalTolerance(u, digits)).toBeCloseTo(delta, 15);
  });
});

describe('monteCarlo', () => {
  it('agrees with the formula for linear models of normal inputs', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.record({
            c: fc.double({ min: -5, max: 5, noNaN: true }).filter((c) => Math.abs(c) > 0.01),
            u: fc.double({ min: 0.01, max: 3, noNaN: true }),
          }),
          { minLength: 1, maxLength: 4 },
        ),
        fc.integer({ min: 0, max: 1000 }),
        (terms, seed) => {
          const result = monteCarlo({
            model: (x) => x.reduce((total, one, i) => total + terms[i].c * one, 10),
            inputs: terms.map(({ u }) => normal(0, u)),
            confidence: 0.95,
            seed,
            max_trials: 100_000,
          });
          const u = Math.hypot(...terms.map((term) => term.c * term.u));
          // 2·10⁴ trials at least: five standard deviations of u, of the mean and of an end.
          const root = Math.sqrt(result.trials);
          expect(Math.abs((result.standard_uncertainty ?? 0) / u - 1)).toBeLessThan(3.6 / root);
          expect(Math.abs((result.mean ?? 0) - 10) / u).toBeLessThan(5 / root);
          expect(Math.abs((result.symmetric[1] - 10) / u - 1.96)).toBeLessThan(14 / root);
        },
      ),
      { seed: 7, numRuns: 15 },
    );
  });

  it('gives a lone type A input the interval of Student', () => {
    // t95(9) = 2.26 (JCGM 100:2008, Table G.2); trials of the 7.5 % at each end know it to 0.02.
    const result = monteCarlo({
      model: ([x]) => x,
      inputs: [{ shape: 'student', value: 0, standard_uncertainty: 1, dof: 9 }],
      confidence: 0.95,
      seed: 4,
      max_trials: 300_000,
    });
    expect(Math.abs(result.symmetric[1] - 2.262)).toBeLessThan(0.03);
    expect(Math.abs((result.standard_uncertainty ?? 0) - Math.sqrt(9 / 7))).toBeLessThan(0.02);
  });

  it('draws a curvilinear trapezoid with the variance (a² + d²/3)/3', () => {
    // JCGM 101:2008, 6.4.3.3 (from memory): half-width a, doubt of the limits d.
    const result = monteCarlo({
      model: ([x]) => x,
      inputs: [{ shape: 'curvilinear-trapezoid', value: 0, half_width: 1, limit_doubt: 0.5 }],
      confidence: 0.95,
      seed: 4,
      max_trials: 300_000,
    });
    const u = Math.sqrt((1 + 0.25 / 3) / 3);
    expect(Math.abs((result.standard_uncertainty ?? 0) / u - 1)).toBeLessThan(0.01);
  });

  it('lets perfectly correlated inputs cancel', () => {
    const result = monteCarlo({
      model: ([a, b]) => a - b,
      inputs: [normal(3, 0.1), normal(1, 0.1)],
      correlation: [
        [1, 1],
        [1, 1],
      ],
      confidence: 0.95,
      seed: 1,
    });
    expect(result.mean).toBeCloseTo(2, 12);
    expect(result.standard_uncertainty).toBeLessThan(1e-12);
  });

  it('gives the same answer for the same seed and another for another', () => {
    const run = (seed: number) =>
      monteCarlo({ model: ([x]) => x, inputs: [normal(0, 1)], confidence: 0.95, seed });
    expect(run(3)).toEqual(run(3));
    expect(run(3).mean).not.toBe(run(4).mean);
  });

  it('says so when the bound on the trials came first', () => {
    const result = monteCarlo({
      model: ([x]) => x,
      inputs: [normal(0, 0.99)],
      confidence: 0.95,
      seed: 3,
      tolerance_divisor: 5,
      max_trials: 30_000,
    });
    expect(result.stable).toBe(false);
    expect(result.trials).toBe(30_000);
    expect(result.noise).toBeGreaterThan(result.tolerance);
    expect(result.why).toMatch(/30000 trials/);
  });

  it('has no mean and no u to offer where they do not exist', () => {
    const result = monteCarlo({
      model: ([x]) => x,
      inputs: [{ shape: 'student', value: 0, standard_uncertainty: 1, dof: 1 }],
      confidence: 0.95,
      seed: 3,
      max_trials: 200_000,
    });
    expect(result.mean).toBeNull();
    expect(result.standard_uncertainty).toBeNull();
    // t95(1) = 12.71 (JCGM 100:2008, Table G.2); the trials know it to 0.4.
    expect(Math.abs(result.symmetric[1] - 12.71)).toBeLessThan(0.6);
    expect(result.why).toMatch(/variance/);
  });

  it('refuses a model that leaves the real numbers, and impossible inputs', () => {
    const base = { confidence: 0.95, seed: 1 };
    const refused = [
      () => monteCarlo({ ...base, model: ([x]) => Math.log(x), inputs: [normal(0, 1)] }),
      () => monteCarlo({ ...base, model: ([x]) => x, inputs: [normal(0, -1)] }),
      () => monteCarlo({ ...base, model: ([x]) => x, inputs: [normal(Number.NaN, 1)] }),
      () => monteCarlo({ ...base, model: ([x]) => x, inputs: [normal(0, 1)], max_trials: 100 }),
      () =>
        monteCarlo({ ...base, model: ([x]) => x, inputs: [normal(0, 1)], correlation: [[0.5]] }),
      () =>
        monteCarlo({
          ...base,
          model: ([x]) => x,
          inputs: [normal(0, 1), { shape: 'rectangular', value: 0, half_width: 1 }],
          correlation: [
            [1, 0.5],
            [0.5, 1],
          ],
        }),
    ];
    for (const call of refused) {
      expect(call).toThrowError(expect.objectContaining({ code: 'argument-wrong' }));
    }
  });
});

describe('compareWithLinear', () => {
  it('accepts within half a unit of the last digit of u and refuses beyond', () => {
    const linear = { standard_uncertainty: 0.1, low: 0.8, high: 1.2 };
    expect(compareWithLinear(linear, [0.804, 1.196]).agrees).toBe(true);
    expect(compareWithLinear(linear, [0.806, 1.2]).agrees).toBe(false);
    expect(compareWithLinear(linear, [0.806, 1.2], 1).agrees).toBe(true);
  });
});

describe('checkByMonteCarlo', () => {
  const usual: readonly ShapedContribution[] = [
    { relative_standard_uncertainty: 0.004, dof: 17, shape: 'student' },
    { relative_standard_uncertainty: 0.015, dof: KNOWN_EXACTLY, shape: 'normal' },
    { relative_standard_uncertainty: 0.003, dof: KNOWN_EXACTLY, shape: 'rectangular' },
    { relative_standard_uncertainty: 0.002, dof: KNOWN_EXACTLY, shape: 'rectangular' },
    { relative_standard_uncertainty: 0.005, dof: KNOWN_EXACTLY, shape: 'rectangular' },
    { relative_standard_uncertainty: 0.004, dof: 8, shape: 'student' },
  ];

  it('agrees with the formula where it holds', () => {
    const check = checkByMonteCarlo({
      contributions: usual,
      value: 1.08,
      confidence: 0.95,
      seed: 1,
    });
    const { relative_expanded_uncertainty: U } = combineContributions(
      usual.map((one, i) => ({ ...one, name: `${i}`, type: 'B', note: '' })),
      { confidence: 0.95 },
    );
    expect(check.agrees).toBe(true);
    expect(Math.abs(check.high / 1.08 - 1 - U)).toBeLessThan(0.03 * U);
    expect(Math.abs(1 - check.low / 1.08 - U)).toBeLessThan(0.03 * U);
  });

  it('disagrees where one rectangle dominates, as JCGM 101:2008, 9.2.4 does', () => {
    const check = checkByMonteCarlo({
      contributions: [
        { relative_standard_uncertainty: 0.1, dof: KNOWN_EXACTLY, shape: 'rectangular' },
        { relative_standard_uncertainty: 0.01, dof: KNOWN_EXACTLY, shape: 'rectangular' },
      ],
      value: 1,
      confidence: 0.95,
      seed: 1,
    });
    expect(check.agrees).toBe(false);
    // 0.95 · 0.1 · √3 = 0.1645 for the rectangle alone.
    expect(Math.abs(check.high - 1.165)).toBeLessThan(0.005);
  });

  it('disagrees where three degrees of freedom carry half of the variance', () => {
    const check = checkByMonteCarlo({
      contributions: [
        { relative_standard_uncertainty: 0.01, dof: 3, shape: 'student' },
        { relative_standard_uncertainty: 0.01, dof: KNOWN_EXACTLY, shape: 'normal' },
      ],
      value: 1,
      confidence: 0.95,
      seed: 1,
    });
    expect(check.agrees).toBe(false);
  });

  it('disagrees where the uncertainty is so large that the ratio bends', () => {
    const check = checkByMonteCarlo({
      contributions: [0, 1, 2].map(() => ({
        relative_standard_uncertainty: 0.2,
        dof: KNOWN_EXACTLY,
        shape: 'normal',
      })),
      value: 1,
      confidence: 0.95,
      seed: 1,
    });
    expect(check.agrees).toBe(false);
  });

  it('compares with the interval it is handed', () => {
    const base = { contributions: usual, value: 1, confidence: 0.95, seed: 1 };
    const { low, high } = checkByMonteCarlo(base);
    expect(checkByMonteCarlo({ ...base, interval: [low, high] }).agrees).toBe(true);
    expect(checkByMonteCarlo({ ...base, interval: [low, high * 1.005] }).agrees).toBe(false);
  });

  it('scales with the factor', () => {
    const base = { contributions: usual, confidence: 0.95, seed: 1, max_trials: 20_000 };
    const one = checkByMonteCarlo({ ...base, value: 1 });
    const ten = checkByMonteCarlo({ ...base, value: 10 });
    expect(ten.high).toBeCloseTo(10 * one.high, 9);
    expect(ten.low).toBeCloseTo(10 * one.low, 9);
  });

  it('gives a lone type A part with two degrees of freedom the interval of Student', () => {
    const check = checkByMonteCarlo({
      contributions: [{ relative_standard_uncertainty: 0.01, dof: 2, shape: 'student' }],
      value: 1,
      confidence: 0.95,
      seed: 1,
    });
    expect(check.agrees).toBe(true);
    expect(Math.abs((check.high - 1) / 0.01 - coverageFactor(0.95, 2))).toBeLessThan(0.2);
  });

  it('holds at an exact factor without any uncertainty', () => {
    for (const contributions of [[], [{ ...usual[0], relative_standard_uncertainty: 0 }]]) {
      const check = checkByMonteCarlo({ contributions, value: 1.1, confidence: 0.95, seed: 1 });
      expect(check).toMatchObject({ low: 1.1, high: 1.1, stable: true, agrees: true });
    }
  });

  it('refuses a factor that is not above zero', () => {
    const base = { contributions: usual, confidence: 0.95, seed: 1 };
    expect(() => checkByMonteCarlo({ ...base, value: 0 })).toThrowError(/factor/);
    expect(() => checkByMonteCarlo({ ...base, value: 1, seed: 0.5 })).toThrowError(/seed/);
  });
});
