import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { combineContributions } from '../../src/budget/combine.js';
import { partialDerivative } from '../../src/budget/derivatives.js';
import { monteCarlo } from '../../src/budget/monteCarlo.js';
import { correlationOfResults, propagateUncertainty } from '../../src/budget/propagate.js';

const checks = { seed: 12, numRuns: 100 };
const positive = fc.double({ min: 0.1, max: 1e4, noNaN: true });
const small = fc.double({ min: 1e-7, max: 0.02, noNaN: true });

describe('partialDerivative', () => {
  it.each([
    // Calculus.
    ['exp', Math.exp, 1, Math.E],
    ['sin', Math.sin, 0.3, Math.cos(0.3)],
    ['ln', Math.log, 0.001, 1000],
    ['1/x', (x: number) => 1 / x, -2, -0.25],
  ] as const)('of %s is that of calculus', (_, f, x, slope) => {
    const { value, error } = partialDerivative(([a]) => f(a), [x], 0, 0.01 * Math.abs(x));
    expect(value / slope).toBeCloseTo(1, 9);
    expect(Math.abs(value - slope)).toBeLessThanOrEqual(Math.max(error, 1e-9 * Math.abs(slope)));
  });

  it('shrinks its step into the range of the model', () => {
    const { value } = partialDerivative(([x]) => Math.sqrt(x), [0.01], 0, 5);
    expect(value).toBeCloseTo(5, 6);
  });
});

describe('propagate', () => {
  it('agrees with relative addition for a quotient of independent parts', () => {
    fc.assert(
      fc.property(positive, positive, small, small, (a, b, ua, ub) => {
        const result = propagateUncertainty({
          model: ([x, y]) => x / y,
          inputs: [
            { name: 'a', value: a, standard_uncertainty: a * ua, dof: 7 },
            { name: 'b', value: b, standard_uncertainty: b * ub, dof: 12 },
          ],
          confidence: 0.95,
        });
        const combined = combineContributions(
          [
            { name: 'a', relative_standard_uncertainty: ua, dof: 7, type: 'A', note: '' },
            { name: 'b', relative_standard_uncertainty: ub, dof: 12, type: 'A', note: '' },
          ],
          { confidence: 0.95 },
        );
        const relative = result.standard_uncertainty / result.value;
        expect(relative / combined.relative_standard_uncertainty).toBeCloseTo(1, 6);
        expect((result.dof ?? 0) / combined.dof).toBeCloseTo(1, 5);
        expect(result.inputs[0].share + result.inputs[1].share).toBeCloseTo(1, 10);
      }),
      checks,
    );
  });

  it('doubles u when every input uncertainty doubles', () => {
    fc.assert(
      fc.property(positive, positive, small, (a, b, u) => {
        const at = (factor: number) =>
          propagateUncertainty({
            model: ([x, y]) => x * y + x,
            inputs: [
              { name: 'a', value: a, standard_uncertainty: factor * u * a },
              { name: 'b', value: b, standard_uncertainty: factor * u * b },
            ],
            confidence: 0.95,
          }).standard_uncertainty;
        expect(at(2) / at(1)).toBeCloseTo(2, 6);
      }),
      checks,
    );
  });

  it('gives with its second order what Monte Carlo gives for a model that bends', () => {
    const model = ([x, y]: readonly number[]) => x * x * y;
    const inputs = [
      { name: 'x', value: 1, standard_uncertainty: 0.15 },
      { name: 'y', value: 2, standard_uncertainty: 0.3 },
    ];
    const linear = propagateUncertainty({ model, inputs, confidence: 0.95 });
    const drawn = monteCarlo({
      model,
      inputs: inputs.map((input) => ({ shape: 'normal', ...input })),
      confidence: 0.95,
      seed: 8,
      toleranceDivisor: 5,
      maxTrials: 400_000,
    }).standard_uncertainty as number;
    // 4·10⁵ trials know u to 0.15 %; terms of fourth order are left.
    expect(Math.abs((linear.second_order_standard_uncertainty ?? 0) / drawn - 1)).toBeLessThan(
      0.01,
    );
    expect(Math.abs(linear.standard_uncertainty / drawn - 1)).toBeGreaterThan(0.01);
  });

  it('has the terms of second order that the moments of normal inputs give', () => {
    // Var(x³) = 9x⁴u² + 36x²u⁴ + 15u⁶ and Var(xz²) = u²z⁴ + 4x²z²v² + 6z²u²v² + 2x²v⁴ + 3u²v⁴, from
    // the moments of the normal distribution; the last term of each is of third order.
    const [x, z, u, v] = [1.3, 0.7, 0.05, 0.04];
    const of = (model: (at: readonly number[]) => number) =>
      propagateUncertainty({
        model,
        inputs: [
          { name: 'x', value: x, standard_uncertainty: u },
          { name: 'z', value: z, standard_uncertainty: v },
        ],
        confidence: 0.95,
      }).second_order_standard_uncertainty as number;
    const cube = 9 * x ** 4 * u ** 2 + 36 * x ** 2 * u ** 4;
    expect(of(([a]) => a ** 3) ** 2 / cube).toBeCloseTo(1, 5);
    const product =
      u ** 2 * z ** 4 +
      4 * x ** 2 * z ** 2 * v ** 2 +
      6 * z ** 2 * u ** 2 * v ** 2 +
      2 * x ** 2 * v ** 4;
    expect(of(([a, b]) => a * b * b) ** 2 / product).toBeCloseTo(1, 5);
  });

  it('keeps the difference of a quantity from itself at zero', () => {
    const result = propagateUncertainty({
      model: ([a, b]) => a - b,
      inputs: [
        { name: 'a', value: 5, standard_uncertainty: 0.1 },
        { name: 'b', value: 5, standard_uncertainty: 0.1 },
      ],
      correlation: [
        [1, 1],
        [1, 1],
      ],
      confidence: 0.95,
    });
    expect(result.standard_uncertainty).toBeLessThan(1e-7);
  });

  it('answers exact inputs with zero and a full set of finite numbers', () => {
    const result = propagateUncertainty({
      model: ([a, b]) => a + b,
      inputs: [
        { name: 'a', value: 0, standard_uncertainty: 0 },
        { name: 'b', value: 3, standard_uncertainty: 0 },
      ],
      confidence: 0.95,
    });
    expect(result).toMatchObject({ value: 3, standard_uncertainty: 0, expanded_uncertainty: 0 });
    expect(result.inputs.map((input) => input.share)).toEqual([0, 0]);
    expect(result.inputs.map((input) => input.sensitivity)).toEqual([
      expect.closeTo(1, 9),
      expect.closeTo(1, 9),
    ]);
  });

  it('refuses a model without a value, without a slope, and impossible correlations', () => {
    const input = { name: 'x', value: 0, standard_uncertainty: 0.1 };
    const of = (model: (x: readonly number[]) => number, correlation?: number[][]) =>
      propagateUncertainty({ model, inputs: [input], confidence: 0.95, correlation });
    expect(() => of(([x]) => 1 / x)).toThrowError(/finite value at the estimates/);
    expect(() => of(([x]) => Math.sqrt(x))).toThrowError(
      expect.objectContaining({ code: 'no-convergence' }),
    );
    expect(() => of(([x]) => (x > 0 ? 1 : 0))).toThrowError(
      expect.objectContaining({ code: 'no-convergence' }),
    );
    expect(() => of(([x]) => x, [[2]])).toThrowError(/correlation matrix/);
  });
});

describe('a covariance where a correlation is asked for', () => {
  const refused = expect.objectContaining({ code: 'argument-wrong' });
  const inputs = [
    { name: 'a', value: 10, standard_uncertainty: 0.2 },
    { name: 'b', value: 5, standard_uncertainty: 0.1 },
  ];
  const difference = { model: ([x, y]: readonly number[]) => x - y, inputs, confidence: 0.95 };
  // u(a)² and u(b)² on the diagonal, r = 0.5
  const covariance = [
    [0.04, 0.01],
    [0.01, 0.01],
  ];
  const one = propagateUncertainty(difference);

  it('is refused by propagate and monteCarlo', () => {
    expect(() => propagateUncertainty({ ...difference, correlation: covariance })).toThrow(refused);
    expect(() =>
      monteCarlo({
        ...difference,
        inputs: inputs.map((input) => ({ ...input, shape: 'normal' })),
        correlation: covariance,
        seed: 1,
      }),
    ).toThrow(refused);
  });

  it('is refused by correlationOfResults, as are a wrong size and a coefficient above 1', () => {
    expect(() => correlationOfResults(one, one, covariance)).toThrow(refused);
    expect(() => correlationOfResults(one, one, [[1]])).toThrow(refused);
    expect(() =>
      correlationOfResults(one, one, [
        [1, 1.5],
        [1.5, 1],
      ]),
    ).toThrow(refused);
  });

  it('is refused by combineContributions when it cannot be a coefficient', () => {
    const part = { relative_standard_uncertainty: 2, dof: 9, type: 'A', note: '' } as const;
    expect(() =>
      combineContributions(
        [
          { ...part, name: 'a' },
          { ...part, name: 'b' },
        ],
        { confidence: 0.95, correlations: [{ between: ['a', 'b'], coefficient: 2 }] },
      ),
    ).toThrow(refused);
  });

  it('a pair stated twice is refused: the last would silently win', () => {
    const part = { relative_standard_uncertainty: 0.1, dof: 9, type: 'A', note: '' } as const;
    expect(() =>
      combineContributions(
        [
          { ...part, name: 'a' },
          { ...part, name: 'b' },
        ],
        {
          confidence: 0.95,
          correlations: [
            { between: ['a', 'b'], coefficient: 0.9 },
            { between: ['b', 'a'], coefficient: 0 },
          ],
        },
      ),
    ).toThrow(refused);
  });
});
