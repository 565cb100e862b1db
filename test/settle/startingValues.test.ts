import { describe, expect, test } from 'vitest';
import type { TraceReadings } from '../../src/settle/readTrace.js';
import { startingValues } from '../../src/settle/startingValues.js';
import { stepResponseCurve } from '../../src/settle/stepResponseCurve.js';
import { leastSquares } from '../../src/statistics/leastSquares.js';
import { nearly } from '../near.js';
import { simulatedTrace } from './bench.js';

type Options = Parameters<typeof startingValues>[1];

/** The same search with each fit written out as least squares over all readings. */
function searched({ elapsed_s: t, reading_mW: y }: TraceReadings, { onset, drift }: Options) {
  const from = onset === 'fitted' ? 0 : onset;
  const length = Math.max(...t) - Math.min(t[0], from);
  const rise = Math.max(
    1,
    y.findIndex((value) => value > 0.3 * Math.max(...y)),
  );
  const places = [0];
  for (let i = 0; i <= rise; i++) places.push(t[i], i === 0 ? t[0] / 2 : (t[i] + t[i - 1]) / 2);
  const onsets = onset === 'fitted' ? places.filter((place) => place >= 0) : [onset];
  const found = [];
  for (let step = 0; step <= 40; step++) {
    const tau = length * 0.002 * 10 ** (step / 10);
    for (const at of onsets) {
      // reading = A·risen + B·(s − τ·risen), the drift being B ÷ A
      const rows = t.map((time) => {
        const s = Math.max(0, time - at);
        const risen = 1 - Math.exp(-s / tau);
        return drift ? [risen, s - tau * risen] : [risen];
      });
      const { coefficients, residualSumOfSquares: squares } = leastSquares(rows, y);
      const [settled, slope = 0] = coefficients;
      if (settled > 0) found.push({ squares, values: [settled, tau, at, slope / settled] });
    }
  }
  return found.sort((a, b) => a.squares - b.squares)[0].values;
}

const uneven = (trace: TraceReadings) => ({
  elapsed_s: trace.elapsed_s.map((t, i) => t + 0.1 * (i % 3)),
  reading_mW: trace.reading_mW,
});

describe('the coarse search finds what fits written out find', () => {
  test.each([
    ['from a switch-on at 0', simulatedTrace({ seed: 1 }), 0],
    ['from one before the trace', simulatedTrace({ seed: 2, tau_s: 1 }), -2],
    ['from one within it', simulatedTrace({ seed: 3, onset_s: 2.2, tau_s: 2 }), 2.2],
    ['times apart by turns', uneven(simulatedTrace({ seed: 4, tau_s: 0.8 })), 0],
    ['an onset to be found between readings', simulatedTrace({ seed: 5, onset_s: 1.3 }), 'fitted'],
    ['one on a reading', simulatedTrace({ seed: 6, onset_s: 1.5, sd_mW: 0.1 }), 'fitted'],
    ['one at the start', simulatedTrace({ seed: 7, tau_s: 4, sd_mW: 0.2 }), 'fitted'],
    [
      'times before 0',
      {
        elapsed_s: simulatedTrace({ seed: 8 }).elapsed_s.map((t) => t - 3),
        reading_mW: simulatedTrace({ seed: 8, onset_s: 4, tau_s: 1 }).reading_mW,
      },
      'fitted',
    ],
    [
      'readings below 0 first',
      {
        elapsed_s: [1, 2, 3, 4, 5, 6, 8, 10, 14],
        reading_mW: [-1, 0.5, -0.2, 20, 33, 41, 50, 54, 56],
      },
      'fitted',
    ],
    [
      'a rise at once',
      { elapsed_s: [1, 2, 3, 4, 6, 9, 14], reading_mW: [60, 75, 85, 90, 96, 99, 100] },
      'fitted',
    ],
  ] as const)('%s', (_, trace, onset) => {
    for (const drift of [false, true]) {
      const found = startingValues(trace, { onset, drift });
      const expected = searched(trace, { onset, drift });
      expect(found).not.toBeNull();
      (found as readonly number[]).forEach((value, j) => {
        if (expected[j] === 0) expect(value).toBe(0);
        else nearly(value, expected[j], 1e-7);
      });
    }
  });

  test.each([
    ['readings of 0', [0, 0, 0, 0, 0, 0]],
    ['readings below 0', [-1, -2, -3, -3.5, -3.8, -4]],
  ])('%s have none', (_, reading_mW) => {
    const trace = { elapsed_s: [1, 2, 3, 4, 5, 6], reading_mW };
    for (const onset of [0, 'fitted'] as const) {
      expect(startingValues(trace, { onset, drift: false })).toBeNull();
    }
  });

  test('a switch-on after all readings leaves nothing to start from', () => {
    const trace = { elapsed_s: [1, 2, 3, 4], reading_mW: [1, 2, 3, 4] };
    for (const drift of [false, true]) {
      expect(startingValues(trace, { onset: 4, drift })).toBeNull();
    }
    expect(startingValues(trace, { onset: 3.5, drift: false })).not.toBeNull();
  });
});

describe('the step response', () => {
  const { value, gradient } = stepResponseCurve;

  test('by hand: 80 mW, 2 s, from 1 s on, falling by 1 % per s', () => {
    // At 5 s: s = 4, risen 1 − e^(−2), 80·(1.02·risen − 0.04)
    nearly(value([80, 2, 1, -0.01], 5), 80 * (1.02 * (1 - Math.exp(-2)) - 0.04), 1e-14);
    for (const t of [-3, 0.5, 1]) {
      expect(value([80, 2, 1, -0.01], t)).toBe(0);
      expect(gradient([80, 2, 1, -0.01], t)).toEqual([0, 0, 0, 0]);
    }
  });

  test.each([1.001, 1.5, 4, 20])('its slopes are those of small differences, at %d s', (t) => {
    const at = [80, 2, 1, -0.01];
    gradient(at, t).forEach((slope, j) => {
      const step = 1e-5 * Math.abs(at[j]);
      const moved = (by: number) =>
        value(
          at.map((one, k) => (k === j ? one + by : one)),
          t,
        );
      nearly(slope, (moved(step) - moved(-step)) / (2 * step), 2e-4);
    });
  });
});
