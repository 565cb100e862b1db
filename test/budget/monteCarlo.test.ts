import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { numericalTolerance } from '../../src/budget/adaptiveTrials.js';
import type { InputDistribution } from '../../src/budget/draws.js';
import { monteCarlo, validateFormula } from '../../src/budget/monteCarlo.js';

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
            maxTrials: 100_000,
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
      maxTrials: 300_000,
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
      maxTrials: 300_000,
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
      toleranceDivisor: 5,
      maxTrials: 30_000,
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
      maxTrials: 200_000,
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
      () => monteCarlo({ ...base, model: ([x]) => x, inputs: [normal(0, 1)], maxTrials: 100 }),
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

describe('validateFormula', () => {
  it('accepts within half a unit of the last digit of u and refuses beyond', () => {
    const linear = { standard_uncertainty: 0.1, low: 0.8, high: 1.2 };
    expect(validateFormula(linear, [0.804, 1.196]).agrees).toBe(true);
    expect(validateFormula(linear, [0.806, 1.2]).agrees).toBe(false);
    expect(validateFormula(linear, [0.806, 1.2], 1).agrees).toBe(true);
  });
});
