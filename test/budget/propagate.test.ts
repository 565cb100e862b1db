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

  it.each([
    // Steps as wide as this need the extrapolation: central differences alone are off by h²·f‴/6.
    ['exp', Math.exp, 1, 0.5, Math.E],
    ['sin', Math.sin, 0.3, 1, Math.cos(0.3)],
    ['x³', (x: number) => x ** 3, 2, 2, 12],
    ['x⁵', (x: number) => x ** 5, 1, 1, 5],
  ] as const)('of %s extrapolates to step zero, and knows how well', (_, f, x, step, slope) => {
    const { value, error } = partialDerivative(([a]) => f(a), [x], 0, step);
    expect(Math.abs(value / slope - 1)).toBeLessThan(1e-12);
    expect(error / slope).toBeLessThan(1e-10);
    expect(error).toBeGreaterThanOrEqual(0);
  });

  it('is that of the input asked for, with the step as rounding takes it', () => {
    const model = ([a, b, c]: readonly number[]) => a + 10 * b + 100 * c;
    const slopes = [0, 1, 2].map((i) => partialDerivative(model, [1, 2, 3], i, 0.5).value);
    expect(slopes.map((one) => Math.round(one * 1e9) / 1e9)).toEqual([1, 10, 100]);
    // Numbers about 10⁸ lie 1.5·10⁻⁸ apart.
    expect(partialDerivative(([x]) => x, [1e8], 0, 4e-8).value).toBe(1);
  });

  it('halves its step sixty times, and then says of which input and where', () => {
    const finite = (inside: (x: number) => boolean) =>
      partialDerivative(([, x]) => (inside(x) ? 3 * x : Number.NaN), [5, 0], 1, 1);
    expect(finite((x) => Math.abs(x) <= 2 ** -60).value).toBeCloseTo(3, 12);
    const refused = expect.objectContaining({ code: 'no-convergence', found: 'input 2 at 0' });
    expect(() => finite((x) => Math.abs(x) < 2 ** -60)).toThrowError(refused);
    // On both sides
    expect(() => finite((x) => x >= 0)).toThrowError(refused);
    expect(() => finite((x) => x <= 0)).toThrowError(refused);
  });

  it.each([
    ['no model', 3, [1], 0, 1, undefined],
    ['an input that is none', () => 1, [Number.NaN], 0, 1, undefined],
    ['no step', () => 1, [1], 0, 0, undefined],
    ['an input beyond the last', () => 1, [1, 2], 2, 1, '0 to 1'],
    ['an input before the first', () => 1, [1, 2], -1, 1, '0 to 1'],
    ['half an input', () => 1, [1, 2], 0.5, 1, '0 to 1'],
    ['the length for an input', () => 1, [1, 2], 'length', 1, '0 to 1'],
  ])('refuses %s', (_, model, at, index, step, expected) => {
    expect(() => partialDerivative(model as () => number, at, index as number, step)).toThrowError(
      expect.objectContaining({ code: 'argument-wrong', expected }),
    );
  });

  it('shrinks its step into the range of the model', () => {
    const { value } = partialDerivative(([x]) => Math.sqrt(x), [0.01], 0, 5);
    expect(value).toBeCloseTo(5, 6);
  });
});

describe('propagate', () => {
  it('is for a product all by arithmetic', () => {
    // a·b, 3 ± 0.3 (ν = 4) and 2 ± 0.1 (ν = 9): effects 2·0.3 and 3·0.1, u² = 0.36 + 0.09,
    // ν = 0.45²/(0.36²/4 + 0.09²/9) = 6.08; SciPy: stats.t.ppf(0.975, 0.2025/0.0333). Second order:
    // twice ½·1²·0.3²·0.1².
    const [u, k] = [Math.sqrt(0.45), 2.4390250640061195];
    const options = {
      model: ([a, b]: readonly number[]) => a * b,
      inputs: [
        { name: 'a', value: 3, standard_uncertainty: 0.3, dof: 4 },
        { name: 'b', value: 2, standard_uncertainty: 0.1, dof: 9 },
      ],
    };
    const found = propagateUncertainty(options);
    expect(found).toEqual({
      value: 6,
      standard_uncertainty: expect.closeTo(u, 12),
      dof: expect.closeTo(0.2025 / 0.0333, 9),
      coverage_factor: expect.closeTo(k, 6),
      expanded_uncertainty: expect.closeTo(k * u, 6),
      inputs: [
        {
          name: 'a',
          sensitivity: expect.closeTo(2, 11),
          effect: expect.closeTo(0.6, 12),
          dof: 4,
          share: expect.closeTo(0.8, 11),
        },
        {
          name: 'b',
          sensitivity: expect.closeTo(3, 11),
          effect: expect.closeTo(0.3, 12),
          dof: 9,
          share: expect.closeTo(0.2, 11),
        },
      ],
      second_order_standard_uncertainty: expect.closeTo(Math.sqrt(0.4509), 11),
      why: '',
    });
    // 95 % if nothing is said; t.ppf(0.95, ·) is less.
    expect(propagateUncertainty({ ...options, confidence: 0.95 })).toEqual(found);
    const less = propagateUncertainty({ ...options, confidence: 0.9 }).coverage_factor as number;
    expect(less).toBeLessThan(2);
  });

  it('has shares of the covariances, and no degrees of freedom where correlated inputs forbid it', () => {
    // a − b with effects 0.3 and −0.1: u² = 0.09 + 0.01 − 2·r·0.03
    const of = (r: number, dofs: readonly (number | undefined)[], uc = 0) =>
      propagateUncertainty({
        model: ([a, b, c]) => a - b + c,
        inputs: [0.3, 0.1, uc].map((standard_uncertainty, i) => ({
          name: 'abc'[i],
          value: i - 1,
          standard_uncertainty,
          ...(dofs[i] === undefined ? {} : { dof: dofs[i] }),
        })),
        correlation: [
          [1, r, 0.2],
          [r, 1, 0],
          [0.2, 0, 1],
        ],
      });
    const known = of(0.5, []);
    expect(known.standard_uncertainty).toBeCloseTo(Math.sqrt(0.07), 12);
    expect(known.inputs.map(({ share }) => share)).toEqual([
      expect.closeTo(0.075 / 0.07, 11),
      expect.closeTo(-0.005 / 0.07, 11),
      expect.closeTo(0, 12),
    ]);
    expect(known.inputs.map(({ effect }) => effect)).toEqual([
      expect.closeTo(0.3, 12),
      expect.closeTo(-0.1, 12),
      0,
    ]);
    const secondOrder = 'The terms of second order are for independent inputs only.';
    // Known exactly, they are normal also together; degrees of freedom of what has no effect are none.
    for (const one of [known, of(0.5, [1e6, 2e6]), of(0.5, [undefined, undefined, 2])]) {
      expect([one.dof, one.why, one.second_order_standard_uncertainty]).toEqual([
        1e6,
        secondOrder,
        null,
      ]);
      expect(one.coverage_factor).toBeCloseTo(1.959964, 5);
      expect(one.expanded_uncertainty).toBeCloseTo(1.959964 * Math.sqrt(0.07), 5);
    }
    for (const one of [of(0.5, [9]), of(0.5, [undefined, 999_999]), of(0, [undefined, 3], 0.1)]) {
      expect([one.dof, one.coverage_factor, one.expanded_uncertainty]).toEqual([null, null, null]);
      expect(one.why).toBe(
        `Welch–Satterthwaite holds for independent inputs only, so there are no degrees of freedom and no U. ${secondOrder}`,
      );
    }
    // A correlation with what has no effect is none.
    expect(of(0, [4])).toMatchObject({ why: '', dof: expect.closeTo(0.01 / (0.0081 / 4), 8) });
  });

  it('says so where the terms of next order cannot be had', () => {
    const of = (model: (x: number) => number, value: number, standard_uncertainty: number) =>
      propagateUncertainty({
        model: ([x]) => model(x),
        inputs: [{ name: 'x', value, standard_uncertainty }],
      });
    const why =
      'The terms of second order cannot be had: the model has no finite value nearby, or higher orders matter as well.';
    // A fifth of u below 0.015 there is no root.
    expect(of(Math.sqrt, 0.015, 0.1)).toMatchObject({
      second_order_standard_uncertainty: null,
      why,
    });
    // x − c x³ at 0, u = 1: f′ f‴ = −6c beside a variance of 1
    expect(of((x) => x - 0.2 * x ** 3, 0, 1)).toMatchObject({
      second_order_standard_uncertainty: null,
      why,
    });
    const found = of((x) => x - 0.125 * x ** 3, 0, 1);
    // f′ by steps of a tenth of u: 1 − c·0.1²
    const next = -0.75 * (1 - 0.125 * 0.1 ** 2);
    expect(found.second_order_standard_uncertainty).toBeCloseTo(Math.sqrt(1 + next), 9);
    expect(found.why).toBe('');
  });

  it('minds a kink as far as it matters, and no rounding', () => {
    const of = (model: (x: readonly number[]) => number, u: number) =>
      propagateUncertainty({
        model,
        inputs: [
          { name: 'smooth', value: 1, standard_uncertainty: u },
          { name: 'bent', value: 0, standard_uncertainty: 0.1 },
        ],
      });
    const bent = ([a, b]: readonly number[]) => a + (b > 0 ? 1 : 0);
    expect(of(bent, 1000).value).toBe(1);
    expect(() => of(bent, 1)).toThrowError(
      expect.objectContaining({ code: 'no-convergence', found: 'input "bent"' }),
    );
    // Numbers about 10⁶ lie 10⁻¹⁰ apart, and the effects are 10⁻¹⁰ and 10⁻¹¹.
    expect(of(([a, b]) => -1e6 - 1e-9 * a - 1e-10 * b, 0.1).value).toBeCloseTo(-1e6, 6);
  });

  it.each([
    ['an uncertainty below zero', { standard_uncertainty: -1 }, {}],
    ['no degrees of freedom', { dof: 0 }, {}],
    ['no name', { name: undefined }, {}],
    ['a value that is none', { value: Number.NaN }, {}],
    [
      'a row too many',
      {},
      {
        correlation: [
          [1, 0],
          [0, 1],
        ],
      },
    ],
    ['no row', {}, { correlation: [] }],
    ['a confidence in percent', {}, { confidence: 95 }],
    ['an option nobody reads', {}, { seed: 1 }],
  ])('refuses %s', (_, changes, options) => {
    const input = { name: 'x', value: 1, standard_uncertainty: 0.1, ...changes };
    expect(() =>
      propagateUncertainty({ model: ([x]) => x, inputs: [input as never], ...options }),
    ).toThrowError(expect.objectContaining({ code: 'argument-wrong' }));
  });

  it('finds the slope at an input below zero that is known exactly', () => {
    const { inputs } = propagateUncertainty({
      model: ([a, b]) => a * b,
      inputs: [
        { name: 'a', value: -3, standard_uncertainty: 0 },
        { name: 'b', value: 2, standard_uncertainty: 0.1 },
      ],
    });
    expect(inputs.map(({ sensitivity }) => sensitivity)).toEqual([
      expect.closeTo(2, 9),
      expect.closeTo(-3, 9),
    ]);
    expect(inputs.map(({ share }) => share)).toEqual([0, expect.closeTo(1, 12)]);
  });

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

describe('the correlation of two results', () => {
  /** Of two inputs, with u by quadrature. */
  const effects = (a: number, b: number, u = Math.hypot(a, b)) =>
    ({
      standard_uncertainty: u,
      inputs: [
        { name: 'a', effect: a },
        { name: 'b', effect: b },
      ],
    }) as unknown as Parameters<typeof correlationOfResults>[0];

  it.each([
    // (3·4 + 4·3)/25, (3·4 − 4·3)/25, −(3·4 + 4·3)/25
    [effects(3, 4), effects(4, 3), undefined, 0.96],
    [effects(3, 4), effects(4, -3), undefined, 0],
    [effects(3, 4), effects(-4, -3), undefined, -0.96],
    // With r = ½ between a and b: u² = 25 + 12; 12 + 12 + ½·(3·3 + 4·4)
    [effects(3, 4, Math.sqrt(37)), effects(4, 3, Math.sqrt(37)), 0.5, 36.5 / 37],
    // Never beyond 1, and 0 with what is known exactly
    [effects(3, 4, 4.9), effects(3, 4), undefined, 1],
    [effects(3, 4, 4.9), effects(-3, -4), undefined, -1],
    [effects(0, 0), effects(3, 4), undefined, 0],
    [effects(3, 4), effects(0, 0), undefined, 0],
  ])('%#: by hand', (first, second, r, expected) => {
    const matrix =
      r === undefined
        ? undefined
        : [
            [1, r],
            [r, 1],
          ];
    expect(correlationOfResults(first, second, matrix)).toBeCloseTo(expected, 12);
  });

  it('needs the same inputs', () => {
    const other = { standard_uncertainty: 5, inputs: [{ name: 'a', effect: 5 }] };
    expect(() => correlationOfResults(effects(3, 4), other as never)).toThrowError(
      expect.objectContaining({ code: 'argument-wrong', found: 'a', expected: 'a, b' }),
    );
    expect(() => correlationOfResults(effects(3, Number.NaN), effects(3, 4))).toThrowError(
      /first result/,
    );
    expect(() => correlationOfResults(effects(3, 4), effects(3, 4, -5))).toThrowError(
      /second result/,
    );
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
