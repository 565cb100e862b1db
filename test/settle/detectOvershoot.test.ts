import { describe, expect, test } from 'vitest';
import { detectOvershoot } from '../../src/settle/detectOvershoot.js';
import type { TraceReadings } from '../../src/settle/readTrace.js';
import { near } from '../near.js';
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

describe('twelve readings by hand', () => {
  // The line is that of the last third, 8 to 11 s: about 9.5 s, Σ(t − 9.5)² = 5, two degrees of freedom.
  const elapsed_s = Array.from({ length: 12 }, (_, i) => i);
  const level = (...early: readonly number[]) => ({
    elapsed_s,
    reading_mW: elapsed_s.map((t) => early[t] ?? 100),
  });

  test('above a level: the middle of three, more than half a percent', () => {
    expect(detectOvershoot(level(0, 50, 90, 102, 101))).toEqual({
      overshoots: true,
      // Of 90, 102 and 101, of 102, 101 and 100: 101 the first time
      excess_percent: expect.closeTo(1, 12),
      at_s: 3,
      why: expect.stringMatching(/anticipates/),
    });
    const none = {
      overshoots: false,
      excess_percent: null,
      at_s: null,
      why: 'No overshoot beyond noise.',
    };
    expect(detectOvershoot(level(0, 50, 90, 100.5, 100.5))).toEqual(none);
    expect(detectOvershoot(level(0, 50, 90, 100.51, 100.51)).overshoots).toBe(true);
    expect(detectOvershoot(level(0, 50, 90, 140))).toEqual(none);
    // The last place that is looked at is the one before the line begins.
    expect(detectOvershoot(level(0, 50, 90, 95, 99, 100, 110, 110)).at_s).toBe(6);
    expect(detectOvershoot(level(110, 110, 90)).at_s).toBe(1);
  });

  test('above a line that falls: 2 mW above 106 at 4 s', () => {
    const falling = (off: number) => ({
      elapsed_s,
      reading_mW: [0, 50, 90, 109, 108, 105, 104, 103, 102 + off, 101 - off, 100 - off, 99 + off],
    });
    const found = detectOvershoot(falling(0));
    expect(found.at_s).toBe(4);
    near(found.excess_percent, 200 / 106, 1e-9);
    // u² = s²·(0.449 + 1/4 + 5.5²/5); SciPy 1.17.1: stats.t.ppf(1 - 0.001/8, 2) = 63.23369. Display steps
    // scatter by 1/√12 of their size, residuals ±d by s² = 4d²/2.
    const u = 63.23369 * Math.sqrt(0.449 + 0.25 + 6.05);
    const step = (2 * Math.sqrt(12)) / u;
    const at = (resolution_mW: number) => detectOvershoot(falling(0), { resolution_mW }).overshoots;
    expect([at(0.999 * step), at(1.001 * step)]).toEqual([true, false]);
    const off = 2 / u / Math.SQRT2;
    expect([0.99, 1.01].map((part) => detectOvershoot(falling(part * off)).overshoots)).toEqual([
      true,
      false,
    ]);
  });

  test('the last third is rounded down, and holds no reading before it', () => {
    const longer = Array.from({ length: 14 }, (_, i) => i);
    const trace = {
      elapsed_s: longer,
      reading_mW: longer.map((t) => (t === 9 ? 60 : t < 2 ? 50 : t < 5 ? 102 : 100)),
    };
    expect(detectOvershoot(trace)).toMatchObject({ overshoots: true, at_s: 2 });
  });

  test('a later course that is not above 0 gives no percent', () => {
    const down = { elapsed_s, reading_mW: elapsed_s.map((t) => (t < 8 ? 5 : t - 10)) };
    expect(detectOvershoot(down)).toEqual({
      overshoots: false,
      excess_percent: null,
      at_s: null,
      why: 'The later course is not above 0.',
    });
  });

  test('a last third at one time has no slope, and tells nothing', () => {
    const stopped = {
      elapsed_s: elapsed_s.map((t) => Math.min(t, 8)),
      reading_mW: elapsed_s.map((t) => (t === 3 || t === 4 ? 150 : 100)),
    };
    expect(detectOvershoot(stopped)).toMatchObject({
      overshoots: false,
      why: 'No overshoot beyond noise.',
    });
  });

  test('eleven readings tell nothing at all', () => {
    const { elapsed_s: t, reading_mW: y } = level(0, 50, 90, 150, 150);
    expect(detectOvershoot({ elapsed_s: t.slice(1), reading_mW: y.slice(1) })).toEqual({
      overshoots: null,
      excess_percent: null,
      at_s: null,
      why: expect.stringMatching(/12/),
    });
  });

  test.each([-1, Number.NaN])('a display step of %d is refused', (resolution_mW) => {
    expect(() => detectOvershoot(level(), { resolution_mW })).toThrow(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });
});

describe('what is no trace', () => {
  const of = (trace: unknown) => () => detectOvershoot(trace as TraceReadings);
  test.each([
    ['no record', null],
    ['no times', { reading_mW: [] }],
    ['no readings', { elapsed_s: [] }],
    ['times that are no list', { elapsed_s: 1, reading_mW: [] }],
    ['readings that are no list', { elapsed_s: [], reading_mW: 1 }],
    ['a time too many', { elapsed_s: [1, 2], reading_mW: [1] }],
    ['a time that is no number', { elapsed_s: [1, Number.NaN], reading_mW: [1, 2] }],
    ['a reading that is no number', { elapsed_s: [1, 2], reading_mW: [1, Number.NaN] }],
    ['a text', { elapsed_s: [1, 2], reading_mW: [1, '2'] }],
  ])('%s is refused', (_, trace) => {
    expect(of(trace)).toThrow(expect.objectContaining({ code: 'argument-wrong' }));
  });

  test('what it lacks is named', () => {
    expect(of({ elapsed_s: [1] })).toThrow(
      'must be a record with elapsed_s, reading_mW. Found: no reading_mW.',
    );
  });

  test('times that run backwards are named, equal ones are borne', () => {
    expect(of({ elapsed_s: [1, 3, 3, 2], reading_mW: [1, 1, 1, 1] })).toThrow(
      expect.objectContaining({ code: 'argument-wrong', found: '2 s after 3 s' }),
    );
    expect(of({ elapsed_s: [3, 2], reading_mW: [1, 1] })).toThrow('2 s after 3 s');
    expect(of({ elapsed_s: [2, 2], reading_mW: [1, 1] })().overshoots).toBeNull();
  });
});
