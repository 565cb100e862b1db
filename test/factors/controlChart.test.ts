import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { controlChart } from '../../src/factors/controlChart.js';
import { seededRandom } from '../../src/statistics/random.js';

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

describe('limits from the uncertainties judge', () => {
  it('a value beyond three of them, though the scatter allows it', () => {
    // Mean 10.2; the last lies 0.4 off, and MR̄ = 0.3 allows 3·0.3/1.128 = 0.80.
    const judged = (u: number) =>
      controlChart({ values: [10, 10, 10.6], standardUncertainties: Array(3).fill(u) });
    expect(judged(0.13).points[2].signals).toEqual(['beyond the limits from the uncertainty']);
    expect(judged(0.13).inControl).toBe(false);
    expect(judged(0.13).why).toContain('3 (beyond the limits from the uncertainty)');
    expect(judged(0.14).inControl).toBe(true);
  });

  it('a value by its own uncertainty where that is larger than the others’', () => {
    const values = [10, 10, 10.6];
    const signals = (own: number) =>
      controlChart({ values, standardUncertainties: [0.01, 0.01, own] }).points[2].signals;
    // 0.4 against 3·max(own, rms).
    expect(signals(0.134)).toEqual([]);
    expect(signals(0.13)).toEqual(['beyond the limits from the uncertainty']);
  });

  it('nothing when all of them are zero', () => {
    const result = controlChart({ values: [1, 1, 2], standardUncertainties: [0, 0, 0] });
    expect(result.inControl).toBe(true);
    expect(result.scatterRatio).toBeNull();
  });
});

describe('how much a chart of few values can say', () => {
  const list = (least: number, most: number) =>
    fc.array(fc.double({ min: -5, max: 5, noNaN: true }), { minLength: least, maxLength: most });

  // By hand: x̄ − xₙ is at most (n − 1)²/n mean ranges, 1.5 sigma for three and 2.54 for four.
  it('three or four values never break limits that they set themselves, and it says so', () => {
    fc.assert(
      fc.property(list(3, 4), (values) => {
        const result = controlChart({ values });
        const most = (1.128 * (values.length - 1) ** 2) / values.length + 1e-9;
        for (const { value } of result.points) {
          expect(Math.abs(value - result.centre)).toBeLessThanOrEqual(most * result.sigma + 1e-9);
        }
        expect(result.inControl).toBe(true);
        expect(result.why).toContain('none of them can break');
      }),
      { seed: 31, numRuns: 500 },
    );
  });

  it('five values can', () => {
    // Mean 0.2, MR̄ = 1/4: 0.8 is 3.6 sigma.
    const result = controlChart({ values: [0, 0, 0, 0, 1] });
    expect(result.points[4].signals).toEqual(['beyond the limits']);
    expect(result.why).not.toContain('none of them can break');
  });

  // What docs/methods/decisions.md promises of steady values whose uncertainties are right.
  it.each([
    [4, 0, 0.01],
    [5, 0.001, 0.03],
    [10, 0.02, 0.09],
    [20, 0.09, 0.18],
  ])('%i steady values raise a false alarm seldom', (n, least, most) => {
    const random = seededRandom(32);
    const trials = 2000;
    let alarms = 0;
    for (let i = 0; i < trials; i++) {
      const values = Array.from({ length: n }, () => 10 + random.normal());
      const found = controlChart({ values, standardUncertainties: Array(n).fill(1) });
      if (!found.inControl) alarms++;
    }
    expect(alarms / trials).toBeGreaterThanOrEqual(least);
    expect(alarms / trials).toBeLessThanOrEqual(most);
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
