import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { InputDistribution } from '../../src/budget/draws.js';
import { monteCarlo, validateFormula } from '../../src/budget/monteCarlo.js';

const normal = (value: number, standard_uncertainty: number): InputDistribution => ({
  shape: 'normal',
  value,
  standard_uncertainty,
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

  it.each([
    // The mean of t exists above ν = 1, the variance above ν = 2; the least ν counts.
    [[1, 9], false, false],
    [[9, 1.5], true, false],
    [[2, 30], true, false],
    [[2.1], true, true],
  ])('with ν = %j has a mean: %j, and u: %j', (dofs, mean, u) => {
    const result = monteCarlo({
      model: (x) => x.reduce((sum, one) => sum + one, 0),
      inputs: [
        ...dofs.map(
          (dof) => ({ shape: 'student', value: 0, standard_uncertainty: 1, dof }) as const,
        ),
        normal(5, 1),
      ],
      seed: 3,
      maxTrials: 20_000,
    });
    expect([result.mean !== null, result.standard_uncertainty !== null]).toEqual([mean, u]);
    // The scatter of a heavy tail asks for more trials than these.
    expect(result).toMatchObject({ trials: 20_000, stable: false });
    expect(result.why).toBe(
      `${u ? '' : 'An input with two degrees of freedom or fewer has no finite variance: only the interval counts. '}After 20000 trials the results still vary by more than the tolerance asks.`,
    );
  });

  it('says nothing where nothing is wrong, and has its defaults', () => {
    const options = { model: ([x]: readonly number[]) => x, inputs: [normal(0, 20)], seed: 2 };
    const found = monteCarlo(options);
    expect(found).toMatchObject({ why: '', stable: true, seed: 2 });
    expect(
      monteCarlo({
        ...options,
        confidence: 0.95,
        significantDigits: 2,
        toleranceDivisor: 1,
        maxTrials: 1_000_000,
        interval: 'symmetric',
      }),
    ).toEqual(found);
    // u = 20 has δ = 0.5 with two digits and 5 with one.
    expect(found.tolerance).toBe(0.5);
    expect(monteCarlo({ ...options, significantDigits: 1 }).tolerance).toBe(5);
    expect(monteCarlo({ ...options, toleranceDivisor: 5, maxTrials: 20_000 }).tolerance).toBe(0.1);
  });

  it('draws correlated inputs together and leaves the others alone', () => {
    // r = 0.8 of the first and the third: u² = 1 + 1 ± 1.6; of the second, 3, none: 1 + 9.
    const of = (model: (x: readonly number[]) => number) =>
      monteCarlo({
        model,
        inputs: [
          normal(1, 1),
          { shape: 'rectangular', value: 10, half_width: 27 ** 0.5 },
          normal(100, 1),
        ],
        correlation: [
          [1, 0, 0.8],
          [0, 1, 0],
          [0.8, 0, 1],
        ],
        seed: 6,
        maxTrials: 20_000,
      });
    const cases = [
      [of(([a, , c]) => a + c), 101, 3.6],
      [of(([a, , c]) => c - a), 99, 0.4],
      [of(([a, b]) => a + b), 11, 10],
      [of(([, b, c]) => b - c), -90, 10],
    ] as const;
    // 2·10⁴ trials know u to 0.5 % and a mean to 0.7 % of u; four times that.
    for (const [{ mean, standard_uncertainty }, value, variance] of cases) {
      const u = Math.sqrt(variance);
      expect(Math.abs((mean as number) - value) / u).toBeLessThan(0.028);
      expect(Math.abs((standard_uncertainty as number) / u - 1)).toBeLessThan(0.02);
    }
    // A matrix that correlates nothing draws each by its shape.
    const apart = { model: ([x]: readonly number[]) => x, seed: 1, maxTrials: 20_000 };
    const inputs = [{ shape: 'rectangular', value: 0, half_width: 1 }] as const;
    expect(monteCarlo({ ...apart, inputs, correlation: [[1]] })).toEqual(
      monteCarlo({ ...apart, inputs }),
    );
  });

  it.each([
    ['a row too few', [[1]], '1', '2'],
    ['no row', [], '0', '2'],
    [
      'a correlation of what is not normal',
      [
        [1, 0.5],
        [0.5, 1],
      ],
      'arcsine',
      'normal',
    ],
    [
      'one below zero of it',
      [
        [1, -0.5],
        [-0.5, 1],
      ],
      'arcsine',
      'normal',
    ],
  ])('refuses %s', (_, correlation, found, expected) => {
    const inputs = [normal(0, 1), { shape: 'arcsine', value: 0, half_width: 1 } as const];
    for (const order of [inputs, [...inputs].reverse()]) {
      expect(() =>
        monteCarlo({ model: ([x]) => x, inputs: order, correlation, seed: 1 }),
      ).toThrowError(expect.objectContaining({ code: 'argument-wrong', found, expected }));
    }
  });

  it.each([
    ['significantDigits', 0],
    ['significantDigits', 3],
    ['significantDigits', '2'],
    ['toleranceDivisor', 0],
    ['toleranceDivisor', -1],
    ['toleranceDivisor', '5'],
    ['maxTrials', '1000000'],
    ['maxTrials', 19_999],
    ['interval', 'narrow'],
    ['seed', 1.5],
    ['model', 3],
  ])('refuses a %s of %j', (name, value) => {
    const options = { model: ([x]: readonly number[]) => x, inputs: [normal(0, 1)], seed: 1 };
    expect(() => monteCarlo({ ...options, [name]: value })).toThrowError(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
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
  it.each([
    // u = 10 has δ = 0.5; formula minus trials
    [[0, 0], 0, 0, true],
    [[-0.5, 0.5], 0.5, -0.5, true],
    [[0.5, -0.5], -0.5, 0.5, true],
    [[0.501, 0], -0.501, 0, false],
    [[-0.501, 0], 0.501, 0, false],
    [[0, 0.501], 0, -0.501, false],
    [[0, -0.501], 0, 0.501, false],
  ] as const)('of 0 to 0 against %j', (interval, low_difference, high_difference, agrees) => {
    const linear = { standard_uncertainty: 10, low: 0, high: 0 };
    expect(validateFormula(linear, interval)).toEqual({
      tolerance: 0.5,
      low_difference: expect.closeTo(low_difference, 12),
      high_difference: expect.closeTo(high_difference, 12),
      agrees,
    });
  });

  it.each([
    ['no u', { standard_uncertainty: 0 }, [0, 1], 2, undefined],
    ['an end that is none', { low: Number.NaN }, [0, 1], 2, undefined],
    ['another end that is none', { high: undefined }, [0, 1], 2, undefined],
    ['one end', {}, [0], 2, '1'],
    ['three ends', {}, [0, 1, 2], 2, '3'],
    ['three digits', {}, [0, 1], 3, '3'],
    ['no digit', {}, [0, 1], 0, '0'],
  ])('refuses %s', (_, changes, interval, digits, found) => {
    const linear = { standard_uncertainty: 1, low: 0, high: 1, ...changes };
    expect(() => validateFormula(linear as never, interval as never, digits as never)).toThrowError(
      expect.objectContaining({
        code: 'argument-wrong',
        ...(found === undefined ? {} : { found }),
      }),
    );
  });

  it('accepts within half a unit of the last digit of u and refuses beyond', () => {
    const linear = { standard_uncertainty: 0.1, low: 0.8, high: 1.2 };
    expect(validateFormula(linear, [0.804, 1.196]).agrees).toBe(true);
    expect(validateFormula(linear, [0.806, 1.2]).agrees).toBe(false);
    expect(validateFormula(linear, [0.806, 1.2], 1).agrees).toBe(true);
  });
});
