import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { controlChart } from '../../src/decide/index.js';

/** Ten alternating values: centre 10, mean moving range 0.2256, so sigma is 0.2 exactly. */
const steady = Array.from({ length: 10 }, (_, i) => 10 + (i % 2 === 0 ? 0.1128 : -0.1128));
const chart = (...later: number[]) => controlChart({ values: [...steady, ...later], baseline: 10 });
const lastSignals = (...later: number[]) => chart(...later).points.at(-1)?.signals;

describe('signals of a control chart', () => {
  it('the baseline is as it was built', () => {
    expect(chart().centre).toBeCloseTo(10, 12);
    expect(chart().sigma).toBeCloseTo(0.2, 12);
    expect(chart()).toMatchObject({ inControl: true });
  });

  // NIST/SEMATECH e-Handbook 6.3.2, the four Western Electric rules.
  it('one point beyond three sigma, on either side', () => {
    expect(lastSignals(10.61)).toEqual(['beyond the limits']);
    expect(lastSignals(9.39)).toEqual(['beyond the limits']);
    expect(lastSignals(10.59)).toEqual([]);
  });

  it('two of three beyond two sigma on one side', () => {
    expect(lastSignals(10.45, 10, 10.45)).toEqual(['two of three beyond two thirds of the limit']);
    expect(lastSignals(10.45, 10, 10, 10.45)).toEqual([]);
    expect(lastSignals(10.45, 9.55)).toEqual([]);
  });

  it('four of five beyond one sigma on one side', () => {
    expect(lastSignals(10.25, 10.25, 10, 10.25, 10.25)).toEqual([
      'four of five beyond a third of the limit',
    ]);
    expect(lastSignals(10.25, 10.25, 10, 10, 10.25, 10.25)).toEqual([]);
  });

  it('eight in a row on one side', () => {
    const seven = Array(7).fill(10.05);
    expect(lastSignals(9.95, ...seven)).toEqual([]);
    expect(lastSignals(9.95, ...seven, 10.05)).toEqual(['eight in a row on one side']);
  });

  it('do not change when the chart is turned over or its unit changes', () => {
    const values = fc.array(fc.double({ min: 1, max: 2, noNaN: true }), {
      minLength: 3,
      maxLength: 20,
    });
    fc.assert(
      fc.property(values, (list) => {
        const count = (values: readonly number[]) =>
          controlChart({ values }).points.map((point) => point.signals.length);
        expect(count(list.map((value) => 4 - value))).toEqual(count(list));
        expect(count(list.map((value) => 4 * value))).toEqual(count(list));
      }),
      { seed: 21 },
    );
  });
});

describe('limits from the uncertainties', () => {
  it('stand beside those from the scatter, and a budget that explains too little is named', () => {
    const result = controlChart({ values: steady, standardUncertainties: Array(10).fill(0.1) });
    expect(result.limitsFromUncertainty?.[1]).toBeCloseTo(10.3, 12);
    expect(result.scatterRatio).toBeCloseTo(2, 12);
    expect(result.why).toMatch(/missing in the budget/);
  });
});

describe('awkward charts', () => {
  it('equal values are in control and have no width', () => {
    const result = controlChart({ values: [1, 1, 1, 1] });
    expect(result).toMatchObject({ sigma: 0, limits: [1, 1], inControl: true });
  });

  it('refuses two values, a baseline beyond the data, and missing uncertainties', () => {
    expect(() => controlChart({ values: [1, 2] })).toThrow(/at least 3/);
    expect(() => controlChart({ values: steady, baseline: 11 })).toThrow(/baseline/);
    expect(() => controlChart({ values: steady, standardUncertainties: [0.1] })).toThrow();
  });
});
