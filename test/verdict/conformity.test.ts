import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { conformity } from '../../src/verdict/conformity.js';

/** Evenly spread: fc.double spreads over exponents, so that most of its numbers are tiny. */
const uniform = (min: number, max: number) =>
  fc.integer({ min: 0, max: 1_000_000 }).map((i) => min + ((max - min) * i) / 1_000_000);

describe('published examples', () => {
  // JCGM 106:2012, clause 7, breakdown voltage of a Zener diode (from memory): −5.47 V, u = 0.05 V,
  // at most −5.40 V; Φ(1.40) printed as 0.92. R: pnorm((5.47 - 5.40)/.05)
  it('a Zener diode conforms with a probability of 0.92', () => {
    const { probability, simple } = conformity({
      value: -5.47,
      standardUncertainty: 0.05,
      upperLimit: -5.4,
    });
    expect(Number(probability.toFixed(2))).toBe(0.92);
    expect(simple).toBe('accept');
  });

  // JCGM 106:2012, clause 7, burst strength of a container (from memory): 509.7 kPa, u = 8.6 kPa,
  // at least 490 kPa; Φ(2.3) printed as 0.99. R: pnorm((509.7 - 490)/8.6)
  it('a container conforms with a probability of 0.99', () => {
    const { probability } = conformity({
      value: 509.7,
      standardUncertainty: 8.6,
      lowerLimit: 490,
    });
    expect(Number(probability.toFixed(2))).toBe(0.99);
  });

  // Standard normal table: Φ(1.645) = 0.950, Φ(1.96) = 0.975, Φ(1) = 0.8413.
  it.each([
    [1.645, 0.95],
    [1.96, 0.975],
    [1, 0.841],
    [0, 0.5],
  ])('%d standard uncertainties from the limit it is %d', (z, p) => {
    const { probability } = conformity({ value: 10 - z, standardUncertainty: 1, upperLimit: 10 });
    expect(Number(probability.toFixed(3))).toBe(p);
  });

  // ILAC-G8:09/2019 (read in a secondary text): with w = U the probability of false acceptance is
  // below 2.5 %, with simple acceptance up to 50 %.
  it('at the edge of guarded acceptance less than 2.5 % are false, at that of simple acceptance half', () => {
    const edge = conformity({ value: 8, standardUncertainty: 1, upperLimit: 10 });
    expect(edge.zone).toBe('accept');
    expect(edge.acceptance).toEqual([null, 8]);
    expect(1 - edge.probability).toBeLessThan(0.025);
    expect(conformity({ value: 10, standardUncertainty: 1, upperLimit: 10 }).probability).toBe(0.5);
  });

  // JCGM 100:2008, table G.2: t = 2.57 for 5 degrees of freedom at 95 %.
  it('with few degrees of freedom the guard band follows Student’s t', () => {
    const { guardBand, probability } = conformity({
      value: 8,
      standardUncertainty: 1,
      dof: 5,
      upperLimit: 10.571,
    });
    expect(Number(guardBand.toFixed(2))).toBe(2.57);
    expect(probability).toBeCloseTo(0.975, 3);
  });
});

describe('properties', () => {
  const number = uniform(-10, 10);
  const positive = fc.double({ min: 0.01, max: 5, noNaN: true });

  it('guarded acceptance is never given where simple acceptance is not', () => {
    fc.assert(
      fc.property(number, positive, positive, number, (value, u, width, lower) => {
        const result = conformity({
          value,
          standardUncertainty: u,
          lowerLimit: lower,
          upperLimit: lower + width,
        });
        if (result.zone === 'accept') expect(result.simple).toBe('accept');
        if (result.zone === 'reject') expect(result.simple).toBe('reject');
        expect(result.probability).toBeGreaterThanOrEqual(0);
        expect(result.probability).toBeLessThanOrEqual(1);
      }),
      { seed: 14 },
    );
  });

  it('a wider guard band never accepts more', () => {
    fc.assert(
      fc.property(number, positive, positive, positive, (value, u, a, b) => {
        const at = (guardBandFactor: number) =>
          conformity({ value, standardUncertainty: u, upperLimit: 0, guardBandFactor }).zone;
        if (at(Math.max(a, b)) === 'accept') expect(at(Math.min(a, b))).toBe('accept');
        else expect(at(a + b)).not.toBe('accept');
      }),
      { seed: 15 },
    );
  });
});

describe('awkward values', () => {
  it('limits closer than two guard bands leave nothing to accept', () => {
    const result = conformity({ value: 1, standardUncertainty: 1, lowerLimit: 0, upperLimit: 2 });
    expect(result).toMatchObject({ acceptance: null, zone: 'undecided', simple: 'accept' });
    expect(result.why).toMatch(/measure better/);
  });

  it('without uncertainty a value on the limit conforms', () => {
    const on = { value: 2, standardUncertainty: 0, upperLimit: 2 };
    expect(conformity(on)).toMatchObject({ probability: 1, simple: 'accept', zone: 'accept' });
    expect(conformity({ ...on, value: 2.1 })).toMatchObject({ probability: 0, zone: 'reject' });
  });

  it('refuses no limit, limits in the wrong order, and numbers that are none', () => {
    expect(() => conformity({ value: 1, standardUncertainty: 1 })).toThrow(/limit/);
    expect(() =>
      conformity({ value: 1, standardUncertainty: 1, lowerLimit: 2, upperLimit: 1 }),
    ).toThrow(/lower limit/);
    expect(() => conformity({ value: Number.NaN, standardUncertainty: 1, upperLimit: 1 })).toThrow(
      /finite/,
    );
    expect(() => conformity({ value: 1, standardUncertainty: -1, upperLimit: 1 })).toThrow(
      /uncertainty/,
    );
  });
});
