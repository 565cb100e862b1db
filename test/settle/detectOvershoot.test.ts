import { describe, expect, test } from 'vitest';
import { detectOvershoot } from '../../src/settle/detectOvershoot.js';
import { anticipatingTrace, simulatedTrace } from './bench.js';

test('a first-order response, drooping or not, is seldom taken for an overshoot', () => {
  // Meant: 0.1 % of traces. 600 traces: at most four
  let found = 0;
  for (let seed = 0; seed < 200; seed++) {
    for (const drift_per_s of [0, -0.003, 0.003]) {
      if (detectOvershoot(simulatedTrace({ seed, drift_per_s, readings: 60 })).overshoots) found++;
    }
  }
  expect(found).toBeLessThanOrEqual(4);
});

test('an anticipating meter is found, with how far and when', () => {
  for (let seed = 0; seed < 20; seed++) {
    const found = detectOvershoot(anticipatingTrace(seed));
    expect(found.overshoots).toBe(true);
    // By hand: it peaks 16.2 % above its end, at 2.0 s. The line through the last 5 s, continued
    // back to there, is good to 0.85 %: four times that.
    expect(found.excess_percent).toBeGreaterThan(12.8);
    expect(found.excess_percent).toBeLessThan(19.6);
    expect(found.at_s).toBeLessThan(4);
    expect(found.why).toMatch(/anticipates/);
  }
});

describe('awkward input', () => {
  test('fewer than 12 readings cannot tell', () => {
    const found = detectOvershoot(simulatedTrace({ seed: 1, readings: 11 }));
    expect(found.overshoots).toBeNull();
    expect(found.why).toMatch(/12/);
  });

  test('one wild reading is no overshoot', () => {
    const trace = simulatedTrace({ seed: 2, readings: 60 });
    const wild = { ...trace, reading_mW: trace.reading_mW.map((p, i) => (i === 25 ? p + 80 : p)) };
    expect(detectOvershoot(wild).overshoots).toBe(false);
  });

  test('a single step of a coarse display is no overshoot', () => {
    const elapsed_s = Array.from({ length: 30 }, (_, i) => i + 1);
    const reading_mW = elapsed_s.map((t) => (t < 3 ? 10 * t : t < 12 ? 31 : 30));
    expect(detectOvershoot({ elapsed_s, reading_mW }, { resolution_mW: 1 }).overshoots).toBe(false);
  });

  test('readings at zero give no percent', () => {
    const elapsed_s = Array.from({ length: 20 }, (_, i) => i);
    const found = detectOvershoot({ elapsed_s, reading_mW: elapsed_s.map(() => 0) });
    expect(found).toMatchObject({ overshoots: false, excess_percent: null });
  });
});
