/**
 * A guard of the coverage study (scripts/coverage-study.mjs; its table is docs/coverage.md), small
 * enough for every test run: the 95 % interval of a series' factor against a truth that is known.
 */
import { expect, test } from 'vitest';
import { estimateFactor } from '../../src/series/estimateFactor.js';
import { simulateSeries } from '../../src/simulate/bench.js';
import type { BenchOptions } from '../../src/simulate/benchOptions.js';
import { seededRandom } from '../../src/statistics/random.js';

const STUDIES = 400;
const NOISE = { reference: 0.005, candidate: 0.005 };
const SETTINGS = {
  confidence: 0.95,
  protocol: {
    order: null,
    discard_first_laps: 0,
    read_at_s: null,
    exclude_cold_starts: true,
    exclude_outliers: false,
    placement: null,
  },
};

type Scenario = Omit<BenchOptions, 'laps' | 'factor'>;

const SCENARIOS: readonly (readonly [string, number, Scenario])[] = [
  [
    'drift of -0.3 % a run, reference first',
    8,
    { level_mW: 50, noise: NOISE, source: { drift: { linear_per_run: -0.003 } } },
  ],
  [
    'first run 8 % cold, ABBA',
    8,
    { level_mW: 50, noise: NOISE, order: 'ABBA', cold_start: { deficit: 0.08, runs: 1 } },
  ],
  [
    'candidate six times as noisy, droop while warming',
    12,
    {
      level_mW: 50,
      noise: { reference: 0.002, candidate: 0.012 },
      source: { drift: { droop: { amplitude: 0.08, time_constant_runs: 4 } } },
    },
  ],
];

test.each(SCENARIOS)(
  '%s: the 95 per cent interval holds the truth as often',
  (name, laps, scenario) => {
    const random = seededRandom(name.length + 1000 * laps);
    let held = 0;
    let plain = 0;
    for (let i = 0; i < STUDIES; i++) {
      const factor = 0.9 + 0.2 * random.uniform();
      const { series } = simulateSeries({ ...scenario, laps, factor }, random);
      const found = estimateFactor(series, SETTINGS, { reference: null, candidate: null }).factor;
      if (found.low! <= factor && factor <= found.high!) held++;
      plain += found.high! / found.low! - 1;
    }
    // Three and a half binomial standard errors about 95 %: 3.8 %
    const allowed = 3.5 * Math.sqrt((0.95 * 0.05) / STUDIES);
    expect(held / STUDIES).toBeGreaterThan(0.95 - allowed);
    expect(held / STUDIES).toBeLessThan(0.95 + allowed);
    // And not by being wide: with noise σ per reading, t·σ√(2/laps) each way is about the least there is.
    const sigma = Math.hypot(scenario.noise!.reference!, scenario.noise!.candidate!);
    expect(plain / STUDIES).toBeLessThan((1.5 * (2 * 2.2 * sigma)) / Math.sqrt(laps));
  },
);
