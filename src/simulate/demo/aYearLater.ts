import type { BenchOptions } from '../benchOptions.js';
import type { Scenario } from '../scenario.js';
import { BENCH_HEAD_R, DRAWER_METER_C } from './meters.js';

const USUAL = {
  laps: 8,
  order: 'ABBA-BAAB',
  noise: { reference: 0.003, candidate: 0.006 },
  run_interval_s: 50,
  jitter_s: 6,
  zero_mW: { reference: 0.1, candidate: 0.9 },
  zero_recorded: true,
  peak_excess: 0.015,
} satisfies Partial<BenchOptions>;

/** The meters of the workshop evening, a year on. */
export const aYearLater: Scenario = {
  folder: '5-a-year-later',
  seed: 1_717_284_605,
  opens_at: '2025-11-14T18:30:00Z',
  layout: 'tidy',
  study: {
    title: 'The same two meters a year later (invented)',
    reference: BENCH_HEAD_R,
    candidate: DRAWER_METER_C,
    sources: [
      { name: 'violet marker module', wavelength_nm: 405, label_class: '3B', label_max_mW: 100 },
      { name: 'green bench diode', wavelength_nm: 520, label_class: '3B', label_max_mW: 90 },
      { name: 'red line module', wavelength_nm: 638, label_class: '3B', label_max_mW: 250 },
      { name: 'near-infrared module', wavelength_nm: 808, label_class: '3B', label_max_mW: 300 },
    ],
    protocol: { order: 'ABBA-BAAB', read_at_s: 25 },
    tolerance_percent: 5,
    confidence: 0.95,
  },
  series: [
    {
      id: 'violet again',
      source: 'violet marker module',
      level_mW: 87,
      factor: 1.345,
      placement: 1.002,
    },
    {
      id: 'green again',
      source: 'green bench diode',
      level_mW: 72,
      factor: 1.12,
      placement: 0.998,
    },
    { id: 'red again', source: 'red line module', level_mW: 181, factor: 1.004, placement: 1.003 },
    {
      id: 'infrared again',
      source: 'near-infrared module',
      level_mW: 262,
      factor: 0.88,
      placement: 0.999,
    },
  ].map(({ id, source, level_mW, factor, placement }, index) => ({
    id,
    source,
    starts_min: 17 * index,
    incidents: id === 'infrared again' ? [{ run: 11, reading_factor: 1.03 }] : [],
    reference_error: 0.008,
    placement,
    bench: {
      ...USUAL,
      level_mW,
      factor,
      source: { noise: 0.002, drift: { linear_per_run: -0.0008 } },
    },
  })),
  story: [
    'The setting: the repair workshop of `1-workshop-evening` borrows the same bench head again a year later and checks its drawer meter with four of its own lasers. The volunteers have learned: every series runs in the order ABBA BAAB, and the violet marker module now carries the right label.',
  ],
  hidden: [
    'At 405 nm the candidate has lost sensitivity: its factor went from 1.21 to 1.345. Somebody had focused a beam on the coating.',
    'At 520, 638 and 808 nm nothing has changed.',
    'Run 11 of the near-infrared module reads 3 % high, and nobody wrote down why.',
    'The reference is the same instrument with the same error (0.8 % high), so that error cancels when the two evenings are compared.',
  ],
  expect: [
    'The factor at 405 nm has moved beyond both uncertainties; the old one must not be used any more.',
    'The other three have not been shown to move.',
    'The odd run is pointed out and kept: without a reason nothing is left out.',
  ],
};
