import { describe, expect, test } from 'vitest';
import { correlation } from '../../../src/agree/correlation.js';
import { MeterpairError } from '../../../src/error.js';
import { displayReadings, frozenRows } from '../../../src/notebook/lessons/coarseDisplay.js';
import { powerSeen } from '../../../src/notebook/lessons/figures/ordersFigure.js';
import {
  correctedPairs,
  pairsOverRange,
  percentDifferences,
  rangeStudy,
} from '../../../src/notebook/lessons/pairs.js';
import { stepsLeft } from '../../../src/notebook/lessons/turns.js';
import { residualBias } from '../../../src/plan/residualBias.js';
import { runOrder } from '../../../src/plan/runOrder.js';
import { mean } from '../../../src/statistics/summary.js';

const low = { factor: 1.25, noise: { reference: 0.003, candidate: 0.004 } };
const plan = { meters: low, range_mW: [5, 300] as const, sources: 18, seed: 1 };

describe('pairs over a range of powers', () => {
  test('begin at the weakest source, end at the strongest, and are a fifth low', () => {
    const quiet = pairsOverRange({ ...plan, meters: { factor: 1.25 } });
    expect(quiet.reference).toHaveLength(18);
    expect(quiet.reference[0]).toBeCloseTo(5, 9);
    expect(quiet.reference.at(-1)).toBeCloseTo(300, 9);
    for (const percent of percentDifferences(quiet)) expect(percent).toBeCloseTo(-20, 9);
  });

  test('correlate perfectly though they are a fifth low, before and after the factor', () => {
    const pairs = pairsOverRange(plan);
    const { factor, pairs: after } = correctedPairs(pairs);
    // K is a mean of 18 ratios, each with 0.5 % of noise.
    expect(Math.abs(factor / 1.25 - 1)).toBeLessThan((4 * 0.005) / Math.sqrt(18));
    expect(correlation(pairs)).toBeGreaterThan(0.999);
    expect(correlation(after)).toBeCloseTo(correlation(pairs) ?? 0, 12);
    expect(Math.abs(mean(percentDifferences(after)))).toBeLessThan(0.01);
    // By hand: 1/1.25 − 1 = −20 %, known to 0.4 %/√18.
    expect(Math.abs(mean(percentDifferences(pairs)) + 20)).toBeLessThan((4 * 0.4) / Math.sqrt(18));
  });

  test('correlate more the wider the range, while the limits stay', () => {
    const meters = { factor: 1.1, noise: { reference: 0.003, candidate: 0.03 } };
    const studies = (
      [
        [48, 52],
        [40, 60],
        [5, 300],
      ] as const
    ).map((range_mW) => rangeStudy({ ...plan, meters, sources: 20, range_mW }, { times: 100 }));
    const [narrow, middle, wide] = studies.map((one) => one.r.mean);
    expect(narrow).toBeLessThan(0.8);
    expect(middle).toBeGreaterThan(narrow ?? 1);
    expect(wide).toBeGreaterThan(0.99);
    // By hand: 2 · 1.96 · 3.01 % at 1/1.1 of the reference = 10.7 %; the mean of s from 20 values is
    // √(2/19)·Γ(10)/Γ(9.5) = 0.9869 of the scatter. One repetition is known to 1/√38 = 16 %.
    const expected = 2 * 196 * Math.hypot(0.003, 0.03) * (1 / 1.1) * 0.9869;
    for (const { width } of studies) {
      expect(Math.abs(width.mean / expected - 1)).toBeLessThan((4 * 0.163) / 10);
    }
  });
});

describe('a coarse display', () => {
  const display = { level_mW: 43.3, step_mW: 1, readings: 2000, seed: 1 };

  test('shows one number when it is quiet, and a mean that is wrong by the rest', () => {
    expect(new Set(displayReadings({ ...display, scatter_steps: 0.02 }))).toEqual(new Set([43]));
    const [row] = frozenRows(display, [0.02]);
    expect([row?.['Different numbers shown'], row?.['Off by mW']]).toEqual([1, '−0.3']);
  });

  test('averages as much of its step away as its restlessness allows', () => {
    for (const s of [0.2, 0.3, 0.5, 1]) {
      // Widrow, Kollár and Liu 1996, IEEE Trans. Instrum. Meas. 45, 353: mean of the rounding error
      // of a signal x with normal scatter s, Σₖ (−1)ᵏ/(πk) · exp(−2π²k²s²) · sin(2πkx), in steps.
      const expected = [1, 2, 3, 4].reduce(
        (sum, k) =>
          sum +
          ((-1) ** k / (Math.PI * k)) *
            Math.exp(-2 * (Math.PI * k * s) ** 2) *
            Math.sin(2 * Math.PI * k * 43.3),
        0,
      );
      const off = mean(displayReadings({ ...display, scatter_steps: s })) - 43.3;
      expect(Math.abs(off - expected)).toBeLessThan(4 * Math.sqrt((s * s + 1 / 12) / 2000));
    }
  });
});

describe('orders', () => {
  test('leave the steps of drift that the planning counts', () => {
    for (const order of ['reference-first', 'candidate-first', 'ABBA', 'ABBA-BAAB'] as const) {
      const letters = runOrder(order, 8).map((meter) => (meter === 'reference' ? 'A' : 'B'));
      expect(stepsLeft(letters.join(''))).toBeCloseTo(residualBias(order, 8).linear.value, 12);
      const source = { laps: 8, source: { noise: 0.1, drift: { linear_per_run: -0.001 } } };
      const { mean: seen } = powerSeen(source, order);
      // 0.1 % a step; the curve of an exponential over 16 runs is far below the tolerance.
      const gap = seen.candidate - seen.reference;
      expect(Math.abs(gap + 0.1 * residualBias(order, 8).linear.value)).toBeLessThan(0.001);
    }
  });

  test('bring the drift back where a run was lost, its place in time kept', () => {
    // By hand: A at 1, 4, 6, 7, B at 2, 3, 5 (the 8th lost): 10/3 − 18/4 = −7/6.
    expect(stepsLeft('ABBA BAA–')).toBeCloseTo(-7 / 6, 12);
    // Without the lost run's partner: A at 1, 4, 6; B at 2, 3, 5.
    expect(stepsLeft('ABBA BA––')).toBeCloseTo(10 / 3 - 11 / 3, 12);
    expect(() => stepsLeft('AAA')).toThrow(MeterpairError);
  });
});
