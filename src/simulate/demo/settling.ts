import type { BenchOptions } from '../benchOptions.js';
import type { Scenario } from '../scenario.js';

const SENSORS = {
  noise: { reference: 0.002, candidate: 0.003 },
  lag: {
    time_constant_s: { reference: 1.8, candidate: 6.5 },
    read_at_s: 20,
    fall_per_s: 0.0008,
  },
  source: { noise: 0.002 },
  run_interval_s: 120,
  jitter_s: 10,
} satisfies Partial<BenchOptions>;

/** Two sensors of different speed, read too early, on a source that falls while it is on. */
export const settling: Scenario = {
  folder: '3-settling',
  seed: 1_655_090_377,
  opens_at: '2025-02-02T14:00:00Z',
  layout: 'tidy',
  study: {
    title: 'How long to wait: two sensors of different speed (invented)',
    reference: {
      name: 'Quick disc R',
      resolution_mW: 0.1,
      rated_max_mW: 2000,
      expanded_uncertainty_percent: 4,
      coverage_factor: 2,
      wavelength_setting: false,
    },
    candidate: {
      name: 'Slow plate C',
      resolution_mW: 0.1,
      rated_max_mW: 2000,
      wavelength_setting: false,
    },
    sources: [{ name: 'red module', wavelength_nm: 638, label_class: '3B', label_max_mW: 200 }],
    protocol: { order: 'ABBA', read_at_s: 20 },
    tolerance_percent: 5,
  },
  series: [
    {
      id: 'settling',
      source: 'red module',
      starts_min: 0,
      reference_error: 0.012,
      bench: { ...SENSORS, laps: 6, order: 'ABBA', level_mW: 142, factor: 1.06 },
      trace: { every_s: 1, until_s: 60 },
    },
  ],
  story: [
    'The setting: a hobbyist built a thermal head from a thick plate and compares it with a borrowed quick one. Each run was filmed with the display in view and read off every second for a minute, so `traces.csv` has the whole rise. For `runs.csv` the number at 20 s was written down, which felt long enough.',
  ],
  hidden: [
    'The time constants are 1.8 s and 6.5 s. At 20 s the quick sensor has settled; the slow one still lacks e^(−20/6.5) = 4.6 %.',
    'The source loses 0.08 % of its power every second that it is on, and recovers between runs. A slow sensor lives in the past: it shows the higher power of a few seconds ago. That is 0.08 %/s × 4.7 s = 0.4 % the other way, and no order of runs cancels it.',
    'So the readings at 20 s show a factor more than 4 % too high.',
  ],
  expect: [
    'Time constants near 1.8 s and 6.5 s from the traces, with intervals.',
    'A warning that the candidate was read too early, what is missing at 20 s, and how long to wait for 1 % (4.6 time constants: about 30 s).',
    'A warning that lag and a falling source together bias the factor.',
  ],
};
