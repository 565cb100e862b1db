import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { exactDistribution } from '../../src/budget/exactDistribution.js';
import type { ExactPart } from '../../src/budget/exactPart.js';
import { seededRandom } from '../../src/statistics/random.js';
import { KNOWN_EXACTLY } from '../../src/vocabulary.js';
import fixture from '../fixtures/exactSums.json' with { type: 'json' };

const part = (shape: ExactPart['shape'], u: number, dof = KNOWN_EXACTLY): ExactPart => ({
  shape,
  standard_uncertainty: u,
  dof,
});

const anyPart: fc.Arbitrary<ExactPart> = fc.record({
  shape: fc.constantFrom('normal', 'student', 'rectangular', 'triangular'),
  standard_uncertainty: fc.oneof(
    fc.double({ min: 0.1, max: 2, noNaN: true }),
    fc.double({ min: -6, max: 0, noNaN: true }).map((power) => 10 ** power),
    fc.constant(0),
  ),
  dof: fc.oneof(fc.double({ min: 1, max: 30, noNaN: true }), fc.constantFrom(1, 2, 8)),
});
const budgets = fc.array(anyPart, { minLength: 1, maxLength: 7 });
const checks = { seed: 11, numRuns: 60 };

describe('exactDistribution against SciPy', () => {
  // Gil-Pelaez inversion, Olds's finite sum or adaptive quadrature: see exactSums.py.
  it.each(fixture.cases)('$name', ({ parts, values }) => {
    const { cdf } = exactDistribution(parts as readonly ExactPart[]);
    for (const { x, cdf: expected } of values) {
      expect(Math.abs(cdf(x) - expected)).toBeLessThanOrEqual(1e-7);
    }
  });
});

describe('exactDistribution against a simulation of 10⁶ draws', () => {
  it.each([
    {
      name: 'a balanced budget',
      parts: [
        part('student', 0.6, 6),
        part('student', 0.7, 3),
        part('normal', 1),
        part('rectangular', 0.6),
        part('rectangular', 0.3),
        part('triangular', 0.4),
        part('arcsine', 0.5),
      ],
    },
    {
      name: 'a wide rectangle with ν = 1',
      parts: [part('student', 0.2, 1), part('normal', 0.3), part('rectangular', 3)],
    },
  ])('$name', ({ parts }) => {
    const random = seededRandom(5);
    const draw = ({ shape, standard_uncertainty: u, dof = 1 }: ExactPart): number => {
      switch (shape) {
        case 'normal':
          return u * random.normal();
        case 'student':
          return u * random.student(dof);
        case 'rectangular':
          return u * Math.sqrt(3) * (2 * random.uniform() - 1);
        case 'triangular':
          return u * Math.sqrt(6) * (random.uniform() + random.uniform() - 1);
        case 'arcsine':
          return u * Math.SQRT2 * Math.cos(Math.PI * random.uniform());
      }
    };
    const trials = 1_000_000;
    const drawn = new Float64Array(trials);
    for (const one of parts) for (let i = 0; i < trials; i++) drawn[i] += draw(one);
    drawn.sort();
    const { cdf } = exactDistribution(parts);
    // Largest distance of the empirical distribution function: Kolmogorov, 1.95/√n at p = 0.001.
    let distance = 0;
    for (let i = 0; i < trials; i += 1000) {
      distance = Math.max(distance, Math.abs(cdf(drawn[i]) - (i + 0.5) / trials));
    }
    expect(distance).toBeLessThanOrEqual(1.95e-3);
    expect(distance).toBeGreaterThan(0);
  });
});

describe('exactDistribution', () => {
  it('is symmetric, rises, and gives back what its quantile was asked', () => {
    fc.assert(
      fc.property(budgets, (parts) => {
        fc.pre(parts.some((one) => one.standard_uncertainty > 0));
        const { cdf, quantile } = exactDistribution(parts);
        let before = 0;
        for (const p of [0.001, 0.025, 0.2, 0.4, 0.5, 0.6, 0.9, 0.975, 0.999]) {
          const x = quantile(p);
          expect(quantile(1 - p) + x).toBeCloseTo(0, 6);
          expect(cdf(x) + cdf(-x)).toBeCloseTo(1, 12);
          expect(Math.abs(cdf(x) - p)).toBeLessThanOrEqual(1e-7);
          expect(cdf(x)).toBeGreaterThan(before);
          before = cdf(x);
        }
        expect(cdf(Number.POSITIVE_INFINITY)).toBe(1);
        expect(cdf(Number.NEGATIVE_INFINITY)).toBe(0);
      }),
      checks,
    );
  });

  it('scales with its parts', () => {
    fc.assert(
      fc.property(budgets, fc.double({ min: 1e-9, max: 1e9, noNaN: true }), (parts, factor) => {
        fc.pre(parts.some((one) => one.standard_uncertainty > 0));
        const scaled = parts.map((one) => ({
          ...one,
          standard_uncertainty: one.standard_uncertainty * factor,
        }));
        const [, before] = exactDistribution(parts).coverageInterval(0.95);
        const [, after] = exactDistribution(scaled).coverageInterval(0.95);
        expect(after / before / factor).toBeCloseTo(1, 6);
      }),
      checks,
    );
  });

  it('does not depend on the order of its parts', () => {
    fc.assert(
      fc.property(budgets, (parts) => {
        const { cdf } = exactDistribution(parts);
        const turned = exactDistribution([...parts].reverse());
        for (const x of [0.01, 0.3, 1, 3, 20]) {
          expect(Math.abs(cdf(x) - turned.cdf(x))).toBeLessThanOrEqual(1e-7);
        }
      }),
      checks,
    );
  });

  it('grows wider with every part', () => {
    fc.assert(
      fc.property(budgets, anyPart, (parts, another) => {
        const [, before] = exactDistribution(parts).coverageInterval(0.95);
        const [, after] = exactDistribution([...parts, another]).coverageInterval(0.95);
        expect(after).toBeGreaterThanOrEqual(before * (1 - 1e-5));
      }),
      checks,
    );
  });

  it('takes ν = 10⁶ for normal and comes there smoothly', () => {
    const half = (dof: number) =>
      exactDistribution([part('student', 1, dof), part('rectangular', 1)]).coverageInterval(
        0.95,
      )[1];
    expect(half(KNOWN_EXACTLY)).toBe(
      exactDistribution([part('normal', 1), part('rectangular', 1)]).coverageInterval(0.95)[1],
    );
    expect(half(KNOWN_EXACTLY - 1) / half(KNOWN_EXACTLY)).toBeCloseTo(1, 5);
    expect(half(1e4) / half(KNOWN_EXACTLY)).toBeCloseTo(1, 3);
  });

  it('is a step at zero when nothing is uncertain', () => {
    for (const parts of [[], [part('normal', 0), part('rectangular', 0), part('student', 0, 1)]]) {
      const { cdf, quantile, coverageInterval, shortestInterval } = exactDistribution(parts);
      expect([cdf(-1e-300), cdf(0), cdf(1)]).toEqual([0, 1, 1]);
      expect([quantile(0.001), quantile(0.5), quantile(0.999)]).toEqual([0, 0, 0]);
      expect(coverageInterval(0.95)).toEqual([0, 0]);
      expect(shortestInterval(0.95)).toEqual([0, 0]);
    }
  });

  it('changes by nothing for a part of zero width, and by little for one of a millionth', () => {
    const parts = [part('student', 1, 4), part('rectangular', 2)];
    const [, half] = exactDistribution(parts).coverageInterval(0.95);
    for (const shape of ['normal', 'student', 'rectangular', 'triangular', 'arcsine'] as const) {
      const zero = exactDistribution([...parts, part(shape, 0, 1)]).coverageInterval(0.95)[1];
      const tiny = exactDistribution([...parts, part(shape, 1e-6, 3)]).coverageInterval(0.95)[1];
      expect(zero).toBe(half);
      expect(tiny / half).toBeCloseTo(1, 5);
    }
  });

  it('has an interval shorter than the symmetric one only with an arcsine', () => {
    const width = ([low, high]: readonly [number, number]) => high - low;
    const swinging = exactDistribution([part('arcsine', 1), part('normal', 0.01)]);
    const [low, high] = swinging.shortestInterval(0.9);
    expect(width([low, high])).toBeLessThan(width(swinging.coverageInterval(0.9)));
    expect(swinging.cdf(high) - swinging.cdf(low)).toBeCloseTo(0.9, 6);
    const still = exactDistribution([part('rectangular', 1), part('normal', 0.01)]);
    expect(still.shortestInterval(0.9)).toEqual(still.coverageInterval(0.9));
  });

  it('stands parts of any size beside each other', () => {
    for (const shape of ['normal', 'student', 'rectangular', 'triangular', 'arcsine'] as const) {
      for (const tiny of [1e-320, 1e-200, 1e-12, 1e-9, 1e-7]) {
        const { coverageInterval } = exactDistribution([
          part('rectangular', 1),
          part(shape, tiny, 1),
        ]);
        expect(coverageInterval(0.95)[1]).toBeCloseTo(0.95 * Math.sqrt(3), 5);
      }
    }
    const huge = exactDistribution([part('normal', 1e200), part('rectangular', 1e200)]);
    expect(huge.quantile(0.975) / 1e200).toBeCloseTo(
      exactDistribution([part('normal', 1), part('rectangular', 1)]).quantile(0.975),
      8,
    );
  });

  it.each([
    // Beside a normal part of 1 the change is at most 0.551 |κ| u⁴/24, in a mixture (1 + 2/ν) times that:
    // 5e-8 of it for u = (24 · 5e-8/(0.551 |κ| (1 + 2/ν)))^¼, with |κ| = 1.2, 0.6 and 1.5.
    ['rectangular', part('normal', 1), 0.0367],
    ['triangular', part('normal', 1, 1), 0.04365],
    ['arcsine', part('normal', 1), 0.03471],
    ['rectangular', part('student', 1, 2), 0.03086],
    ['rectangular', part('student', 2, 2), 2 * 0.03086],
  ] as const)('takes a %s part beside %j for a normal one up to u = %f', (shape, smooth, u) => {
    const at = (bounded: ExactPart['shape'], factor: number) =>
      exactDistribution([part(bounded, factor * u), smooth]).cdf(1.5);
    expect(at(shape, 0.998)).toBe(at('normal', 0.998));
    expect(at(shape, 1.002)).not.toBe(at('normal', 1.002));
    expect(Math.abs(at(shape, 1.002) - at('normal', 1.002))).toBeLessThanOrEqual(1.1e-7);
  });

  it('takes narrow parts for normal ones as long as all of them together change little', () => {
    // Two of 0.0367/2^¼ = 0.03086 are the most; of unequal ones the smaller comes first.
    const parts = (shape: ExactPart['shape'], ...us: readonly number[]) =>
      exactDistribution([part('normal', 1), ...us.map((u) => part(shape, u))]).cdf(1.5);
    expect(parts('rectangular', 0.0308, 0.0308)).toBe(parts('normal', 0.0308, 0.0308));
    expect(parts('rectangular', 0.031, 0.031)).not.toBe(parts('normal', 0.031, 0.031));
    const mixed = exactDistribution([
      part('normal', 1),
      part('rectangular', 0.05),
      part('normal', 0.036),
    ]).cdf(1.5);
    for (const order of [
      [0.05, 0.036],
      [0.036, 0.05],
    ]) {
      expect(parts('rectangular', ...order)).toBe(mixed);
    }
  });

  it('has far tails beside a bounded part: those of the t with the least ν', () => {
    // SciPy: stats.t.ppf(1e-12, ν); far beyond its width a bounded part adds nothing. The power law starts
    // where 1e-9 are left, which the weights left out know to some percent.
    const [one, two] = [part('rectangular', 0.5), part('rectangular', 0.4)];
    for (const [dof, x] of [
      [1, -318309886183.7907],
      [2, -707106.7811854869],
      [3, -10331.108244292487],
    ] as const) {
      for (const others of [
        [one],
        [one, two],
        [part('arcsine', 0.5)],
        [one, part('student', 1, 30)],
      ]) {
        const { quantile } = exactDistribution([part('student', 1, dof), ...others]);
        expect(Math.abs(quantile(1e-12) / x - 1)).toBeLessThan(0.1);
      }
    }
  });

  it('ends where its parts end', () => {
    // Half-widths of u√3, u√6 and u√2
    for (const [shape, end] of [
      ['rectangular', Math.sqrt(3)],
      ['triangular', Math.sqrt(6)],
      ['arcsine', Math.SQRT2],
    ] as const) {
      const { cdf } = exactDistribution([part(shape, 1)]);
      for (const [x, p] of [
        [end, 1],
        [end * 1.01, 1],
        [-end, 0],
        [-end * 1.01, 0],
      ]) {
        expect(cdf(x)).toBeCloseTo(p, 7);
      }
      expect(cdf(end * 0.99)).toBeLessThan(1 - 1e-6);
      const two = exactDistribution([part(shape, 1), part('rectangular', 2)]);
      expect(two.cdf(end + 2 * Math.sqrt(3))).toBeCloseTo(1, 7);
      expect(two.cdf(-end - 2 * Math.sqrt(3))).toBeCloseTo(0, 7);
    }
  });

  it('gives the same bits each time', () => {
    const parts = [part('student', 1, 2.5), part('student', 0.4, 1), part('rectangular', 2)];
    expect(exactDistribution(parts).quantile(0.975)).toBe(exactDistribution(parts).quantile(0.975));
  });

  it.each([
    ['a negative uncertainty', part('normal', -1)],
    ['an uncertainty that is no number', part('rectangular', Number.NaN)],
    ['an infinite uncertainty', part('arcsine', Number.POSITIVE_INFINITY)],
    ['degrees of freedom below 1', part('student', 1, 0.99)],
    ['endless degrees of freedom', part('student', 1, Number.POSITIVE_INFINITY)],
    ['degrees of freedom that are no number', part('student', 1, Number.NaN)],
    ['no degrees of freedom', { shape: 'student', standard_uncertainty: 1 } as const],
    ['a shape nobody knows', part('cosine' as 'normal', 1)],
  ])('refuses %s', (_, wrong) => {
    expect(() => exactDistribution([part('normal', 1), wrong])).toThrowError(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });

  it('asks for the degrees of freedom of Student parts alone, 1 or more', () => {
    const { cdf } = exactDistribution([{ shape: 'rectangular', standard_uncertainty: 1 }]);
    expect(cdf(Math.sqrt(3) / 2)).toBeCloseTo(0.75, 12);
    expect(exactDistribution([part('student', 1, 1)]).cdf(1)).toBeCloseTo(0.75, 7);
    expect(exactDistribution([part('normal', 1, 0.5)]).cdf(1)).toBeCloseTo(0.8413447, 6);
    expect(() => exactDistribution(3 as never)).toThrowError(/must be a list/);
  });

  it('refuses probabilities, confidence levels and places that are none', () => {
    const { cdf, quantile, coverageInterval, shortestInterval } = exactDistribution([
      part('normal', 1),
    ]);
    const wrong = [
      () => cdf(Number.NaN),
      () => quantile(0),
      () => quantile(1),
      () => quantile(Number.NaN),
      () => coverageInterval(95),
      () => shortestInterval(0),
    ];
    for (const ask of wrong) {
      expect(ask).toThrowError(expect.objectContaining({ code: 'argument-wrong' }));
    }
  });
});
