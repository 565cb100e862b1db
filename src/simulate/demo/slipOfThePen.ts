import type { BenchOptions } from '../benchOptions.js';
import type { Scenario } from '../scenario.js';

const USUAL = {
  laps: 8,
  order: 'ABBA-BAAB',
  noise: { reference: 0.003, candidate: 0.006 },
  source: { noise: 0.002, drift: { linear_per_run: -0.0007 } },
  run_interval_s: 55,
  jitter_s: 7,
} satisfies Partial<BenchOptions>;

/** One reading typed without its decimal point, in the first lap, and a series without a fault. */
export const slipOfThePen: Scenario = {
  folder: '7-slip-of-the-pen',
  seed: 1_266_814_098,
  opens_at: '2025-06-13T16:20:00Z',
  layout: 'tidy',
  study: {
    title: 'A slip of the pen (invented)',
    reference: {
      name: 'Studio head R',
      resolution_mW: 0.1,
      rated_max_mW: 1000,
      expanded_uncertainty_percent: 4,
      coverage_factor: 2,
      wavelength_setting: false,
    },
    candidate: {
      name: 'Drawer meter F',
      resolution_mW: 0.1,
      rated_max_mW: 1000,
      wavelength_setting: false,
    },
    sources: [
      { name: 'deep red module', wavelength_nm: 660, label_class: '3B', label_max_mW: 50 },
      { name: 'deep blue module', wavelength_nm: 445, label_class: '3B', label_max_mW: 100 },
    ],
    protocol: { order: 'ABBA-BAAB', read_at_s: 25 },
    tolerance_percent: 5,
  },
  series: [
    {
      id: 'deep red',
      source: 'deep red module',
      starts_min: 0,
      reference_error: 0.005,
      placement: 1.002,
      bench: { ...USUAL, level_mW: 37.2, factor: 1.15 },
      incidents: [{ run: 1, slip: 'decimal-point-left-out' }],
    },
    {
      id: 'deep blue',
      source: 'deep blue module',
      starts_min: 18,
      reference_error: 0.005,
      placement: 0.997,
      bench: { ...USUAL, level_mW: 81, factor: 1.09 },
    },
  ],
  story: [
    'The setting: two people who make light pictures compare the meter of their studio with the one from the drawer. They wrote on paper in the dark and typed the table the next morning.',
  ],
  hidden: [
    'In the very first entry of the deep red module the decimal point got lost: ten times what the display showed.',
    'The table of the deep blue module has no fault.',
  ],
  expect: [
    'The entry is named, with its row and the value that was likely meant. Nothing is changed silently, and it is no cold start: no laser starts at ten times its power.',
    'Until somebody has mended it, left it out with a reason or confirmed it, the deep red module gets no factor to rely on, and its hazard is judged with the entry as it stands.',
    'The deep blue module gets its factor all the same: about 1.09.',
  ],
};
