import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { MeterpairError } from '../../src/error.js';
import { simulateSeries } from '../../src/simulate/bench.js';
import type { BenchOptions } from '../../src/simulate/benchOptions.js';
import { seededRandom } from '../../src/statistics/random.js';
import { mean, standardDeviation } from '../../src/statistics/summary.js';
import type { MeterRole, RunOrder } from '../../src/vocabulary.js';

const QUIET: BenchOptions = { laps: 8, level_mW: 100, factor: 1.25 };

const run = (options: Partial<BenchOptions>, seed = 1) =>
  simulateSeries({ ...QUIET, ...options }, seededRandom(seed));

const readings = (options: Partial<BenchOptions>, meter: MeterRole, seed = 1) =>
  run(options, seed)
    .series.runs.filter((one) => one.meter === meter)
    .map((one) => one.reading_mW);

describe('with every effect off', () => {
  test('the readings give exactly K', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.3, max: 3, noNaN: true }),
        fc.double({ min: 0.5, max: 5000, noNaN: true }),
        fc.integer({ min: 1, max: 20 }),
        fc.constantFrom<RunOrder>('reference-first', 'candidate-first', 'ABBA', 'ABBA-BAAB'),
        (factor, level_mW, laps, order) => {
          const { series, truth } = run({ factor, level_mW, laps, order });
          for (const one of series.runs) {
            const power = one.meter === 'reference' ? one.reading_mW : one.reading_mW * factor;
            expect(power / level_mW).toBeCloseTo(1, 12);
          }
          expect(truth.factor).toBe(factor);
          expect(truth.apparent_factor / factor).toBeCloseTo(1, 12);
          expect(truth.power_mW).toEqual(series.runs.map(() => level_mW));
        },
      ),
      { seed: 20, numRuns: 100 },
    );
  });

  test('runs, laps, rows and times count up', () => {
    const { runs, timed, kind } = run({ laps: 3, run_interval_s: 50 }).series;
    expect(runs.map((one) => one.run)).toEqual([1, 2, 3, 4, 5, 6]);
    expect(runs.map((one) => one.lap)).toEqual([1, 1, 2, 2, 3, 3]);
    expect(runs.map((one) => one.row)).toEqual([2, 3, 4, 5, 6, 7]);
    expect(runs.map((one) => one.time_s)).toEqual([0, 50, 100, 150, 200, 250]);
    expect(runs.map((one) => one.meter[0]).join('')).toBe('rcrcrc');
    expect([timed, kind]).toEqual([true, 'comparison']);
  });
});

describe('with everything on', () => {
  const BUSY: Partial<BenchOptions> = {
    laps: 12,
    order: 'ABBA-BAAB',
    noise: { reference: 0.003, candidate: 0.01 },
    source: {
      noise: 0.005,
      drift: {
        linear_per_run: -0.002,
        quadratic: 0.01,
        droop: { amplitude: 0.1, time_constant_runs: 5 },
        wander: 0.002,
        hop: { probability: 0.1, size: 0.05 },
      },
    },
    cold_start: { deficit: 0.1 },
    resolution_mW: { reference: 0.1, candidate: 1 },
    jitter_s: 10,
    heat_sink: { onset_mW: 50, droop_per_mW: 0.0002 },
    zero_mW: { reference: 0.2, candidate: -2 },
    zero_recorded: true,
    lag: { time_constant_s: { reference: 2, candidate: 5 }, read_at_s: 20, fall_per_s: 0.001 },
    peak_excess: 0.02,
  };

  test('the same seed gives the same series, another seed another', () => {
    expect(run(BUSY, 7)).toEqual(run(BUSY, 7));
    expect(run(BUSY, 8)).not.toEqual(run(BUSY, 7));
  });

  test('every reading stands on the grid of its display and no peak lies below it', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), (seed) => {
        for (const one of run(BUSY, seed).series.runs) {
          const step = one.meter === 'reference' ? 0.1 : 1;
          const steps = (one.reading_mW + one.zero_mW!) / step;
          expect(Math.abs(steps - Math.round(steps))).toBeLessThan(1e-6);
          expect(one.peak_mW!).toBeGreaterThanOrEqual(one.reading_mW);
          expect(one.reading_mW).toBeGreaterThan(0);
        }
      }),
      { seed: 21, numRuns: 50 },
    );
  });

  test('times rise, and by no more and no less than the jitter allows', () => {
    const times = run(BUSY, 3).series.runs.map((one) => one.time_s);
    const gaps = times.slice(1).map((time, index) => time - times[index]!);
    expect(Math.min(...gaps)).toBeGreaterThanOrEqual(35);
    expect(Math.max(...gaps)).toBeLessThanOrEqual(55);
    expect(new Set(gaps).size).toBeGreaterThan(5);
  });
});

describe('each effect does what it says', () => {
  test('noise of a meter has the stated standard deviation and leaves the mean alone', () => {
    const noise = { reference: 0.01, candidate: 0.03 };
    for (const meter of ['reference', 'candidate'] as const) {
      const values = readings({ noise, laps: 5000 }, meter);
      const power = meter === 'reference' ? 100 : 80;
      const sd = noise[meter] * power;
      // Standard errors of a mean and of a standard deviation; five of each.
      expect(Math.abs(mean(values) - power)).toBeLessThan((5 * sd) / Math.sqrt(5000));
      expect(Math.abs(standardDeviation(values) / sd - 1)).toBeLessThan(5 / Math.sqrt(2 * 4999));
    }
  });

  test('noise of the source moves the power, so that both meters see it', () => {
    const { truth, series } = run({ source: { noise: 0.02 }, laps: 2500 });
    expect(Math.abs(standardDeviation(truth.power_mW) / 2 - 1)).toBeLessThan(5 / Math.sqrt(9998));
    series.runs.forEach((one, index) => {
      const gain = one.meter === 'reference' ? 1 : 1.25;
      expect(one.reading_mW * gain).toBeCloseTo(truth.power_mW[index]!, 9);
    });
  });

  test('linear drift changes each run by the stated fraction', () => {
    const { power_mW } = run({ source: { drift: { linear_per_run: -0.004 } } }).truth;
    for (let step = 1; step < power_mW.length; step++) {
      // exp(-0.004) = 1 - 0.004 + 0.000008
      expect(power_mW[step]! / power_mW[step - 1]!).toBeCloseTo(0.996008, 6);
    }
  });

  test('quadratic drift lifts both ends equally over the middle', () => {
    const { power_mW } = run({ source: { drift: { quadratic: 0.02 } }, laps: 8 }).truth;
    expect(Math.log(power_mW[0]! / 100)).toBeCloseTo(0.02, 12);
    expect(Math.log(power_mW.at(-1)! / 100)).toBeCloseTo(0.02, 12);
    expect(Math.min(...power_mW)).toBe(Math.min(power_mW[7]!, power_mW[8]!));
  });

  test('droop loses 1 − 1/e of its amplitude after one time constant', () => {
    const droop = { amplitude: 0.2, time_constant_runs: 4 };
    const { power_mW } = run({ source: { drift: { droop } }, laps: 40 }).truth;
    // 1 - 0.2 (1 - 1/e) = 0.87358
    expect(power_mW[4]! / power_mW[0]!).toBeCloseTo(0.87358, 5);
    expect(power_mW.at(-1)!).toBeCloseTo(80, 4);
  });

  test('wander spreads with the square root of the number of steps', () => {
    const random = seededRandom(4);
    const options = { ...QUIET, source: { drift: { wander: 0.01 } } };
    const walk = (steps: number) =>
      Array.from({ length: 2000 }, () => {
        const { power_mW } = simulateSeries(options, random).truth;
        return Math.log(power_mW[steps]! / power_mW[0]!);
      });
    for (const steps of [1, 4, 15]) {
      const ratio = standardDeviation(walk(steps)) / (0.01 * Math.sqrt(steps));
      expect(Math.abs(ratio - 1)).toBeLessThan(5 / Math.sqrt(2 * 1999));
    }
  });

  test('mode hops jump between two levels, as often as stated', () => {
    const hop = { probability: 0.2, size: 0.1 };
    const { power_mW } = run({ source: { drift: { hop } }, laps: 5000 }).truth;
    expect([...new Set(power_mW.map((power) => Math.round(power)))].sort()).toEqual([100, 110]);
    const jumps = power_mW.filter((power, at) => at > 0 && power !== power_mW[at - 1]).length;
    // Binomial, n = 9999, p = 0.2: standard deviation 40.
    expect(Math.abs(jumps - 0.2 * 9999)).toBeLessThan(200);
  });

  test('a cold start takes its share from the first runs only', () => {
    const { power_mW } = run({ cold_start: { deficit: 0.2, runs: 3, decay: 0.5 } }).truth;
    expect(power_mW.slice(0, 5).map((power) => Number(power.toFixed(9)))).toEqual([
      80, 90, 95, 100, 100,
    ]);
  });

  test('a hot heat sink makes the candidate, and only the candidate, read low above its onset', () => {
    const heat_sink = { onset_mW: 1000, droop_per_mW: 5e-5 };
    expect(readings({ heat_sink, level_mW: 900 }, 'candidate')[0]).toBeCloseTo(720, 9);
    // 1 mW in 20 000 over 1000 mW above the onset: 5 %.
    expect(readings({ heat_sink, level_mW: 2000 }, 'candidate')[0]).toBeCloseTo(1600 * 0.95, 9);
    expect(readings({ heat_sink, level_mW: 2000 }, 'reference')[0]).toBeCloseTo(2000, 9);
    const { truth } = run({ heat_sink, level_mW: 2000 });
    expect(truth.apparent_factor).toBeCloseTo(1.25 / 0.95, 12);
    expect(truth.factor).toBe(1.25);
  });

  test('a zero offset shifts a reading unless it was written down', () => {
    const zero_mW = { reference: 0.5, candidate: -2 };
    expect(readings({ zero_mW }, 'reference')[0]).toBeCloseTo(100.5, 9);
    expect(readings({ zero_mW }, 'candidate')[0]).toBeCloseTo(78, 9);
    const noted = run({ zero_mW, zero_recorded: true });
    expect(noted.series.runs[1]!.zero_mW).toBe(-2);
    expect(noted.series.runs[1]!.reading_mW).toBeCloseTo(80, 9);
    expect(noted.truth.apparent_factor).toBeCloseTo(1.25, 12);
  });

  test('lag on a falling source biases the ratio by fall × difference of time constants', () => {
    // First order in the fall: ln(reference/candidate) changes by fall × (τ_reference − τ_candidate),
    // once both sensors have settled. Source: solution of the first-order equation; read at 10 τ.
    const lag = {
      time_constant_s: { reference: 2, candidate: 4 },
      read_at_s: 40,
      fall_per_s: 0.0005,
    };
    const { truth } = run({ lag });
    expect(Math.log(truth.apparent_factor / 1.25)).toBeCloseTo(-0.0005 * 2, 4);
    // On a steady source a settled pair has no such bias.
    const steady = run({ lag: { ...lag, fall_per_s: 0 } }).truth.apparent_factor;
    expect(steady / 1.25).toBeCloseTo(1, 4);
  });

  test('an early reading lacks e^(−t/τ)', () => {
    const lag = { time_constant_s: { candidate: 5 }, read_at_s: 15 };
    // e^-3 = 4.979 %
    expect(readings({ lag }, 'candidate')[0]).toBeCloseTo(80 * (1 - 0.049787), 4);
    expect(readings({ lag }, 'reference')[0]).toBe(100);
  });

  test('rounding to a coarse display leaves the mean right when noise spreads over several steps', () => {
    const coarse = { resolution_mW: { candidate: 1 }, noise: { candidate: 0.02 } };
    const values = readings({ ...coarse, laps: 5000 }, 'candidate');
    // Sheppard's correction (Wikipedia, "Sheppard's correction"): a step of 1 adds 1/12 to 1.6².
    const sd = Math.sqrt(1.6 ** 2 + 1 / 12);
    expect(Math.abs(mean(values) - 80)).toBeLessThan((5 * sd) / Math.sqrt(5000));
    expect(Math.abs(standardDeviation(values) / sd - 1)).toBeLessThan(5 / Math.sqrt(2 * 4999));
  });

  test('peaks lie above the reading by the stated mean', () => {
    const { series } = run({ peak_excess: 0.04, laps: 3000 });
    const excess = series.runs.map((one) => one.peak_mW! / one.reading_mW - 1);
    // Uniform from 0.02 to 0.06: standard deviation 0.04/√12.
    expect(Math.abs(mean(excess) - 0.04)).toBeLessThan((5 * 0.04) / Math.sqrt(12 * 6000));
    expect(Math.min(...excess)).toBeGreaterThan(0.0199);
  });

  test('plain alternation carries one step of drift, the counterbalanced order none', () => {
    // Common practice, no source; arithmetic of the design: see docs/methods/virtual-bench.md.
    const logRatio = (order: RunOrder) => {
      const drift = { linear_per_run: -0.01 };
      const logs = (meter: MeterRole) =>
        mean(readings({ order, source: { drift } }, meter).map((value) => Math.log(value)));
      return logs('reference') - logs('candidate') - Math.log(1.25);
    };
    expect(logRatio('reference-first')).toBeCloseTo(0.01, 12);
    expect(logRatio('candidate-first')).toBeCloseTo(-0.01, 12);
    expect(logRatio('ABBA')).toBeCloseTo(0, 12);
    expect(logRatio('ABBA-BAAB')).toBeCloseTo(0, 12);
  });
});

describe('what cannot be is refused', () => {
  test.each([
    { laps: 0 },
    { laps: 2.5 },
    { level_mW: 0 },
    { level_mW: Number.NaN },
    { factor: -1 },
    { noise: { candidate: 0.9 } },
    { source: { noise: Number.NaN } },
    { jitter_s: 45 },
    { cold_start: { deficit: 1 } },
    { lag: { time_constant_s: {}, read_at_s: 10, fall_per_s: 0.1 } },
  ] satisfies Partial<BenchOptions>[])('%j', (wrong) => {
    expect(() => run(wrong)).toThrowError(
      expect.objectContaining({ code: 'argument-wrong', name: 'MeterpairError' }),
    );
  });

  test.each([
    { level_mW: 0.3, resolution_mW: { candidate: 1 } },
    { zero_mW: { candidate: -200 } },
    { heat_sink: { onset_mW: 0, droop_per_mW: 0.02 } },
  ] satisfies Partial<BenchOptions>[])('no reading above zero: %j', (wrong) => {
    expect(() => run(wrong)).toThrowError(MeterpairError);
    expect(() => run(wrong)).toThrowError(/shows nothing above zero/);
    expect(() => run(wrong)).not.toThrowError(/in run 0/);
  });
});

test('a thousand series take well under a second', () => {
  const random = seededRandom(5);
  const start = performance.now();
  for (let count = 0; count < 1000; count++) {
    simulateSeries(
      {
        laps: 10,
        level_mW: 50,
        factor: 1.1,
        noise: { reference: 0.004, candidate: 0.01 },
        source: { noise: 0.002, drift: { linear_per_run: -0.001, wander: 0.001 } },
        resolution_mW: { reference: 0.1, candidate: 1 },
      },
      random,
    );
  }
  expect(performance.now() - start).toBeLessThan(1000);
});
