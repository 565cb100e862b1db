import type { BenchOptions } from '../benchOptions.js';
import type { Scenario } from '../scenario.js';

const USUAL = {
  laps: 8,
  order: 'ABBA-BAAB',
  noise: { reference: 0.004, candidate: 0.006 },
  source: { noise: 0.002, drift: { linear_per_run: -0.0005 } },
  run_interval_s: 45,
  jitter_s: 5,
} satisfies Partial<BenchOptions>;

/** Two meters disagree; values from elsewhere help to say which is right. */
export const secondOpinion: Scenario = {
  folder: '4-second-opinion',
  seed: 1_990_337_051,
  opens_at: '2025-04-05T09:30:00Z',
  layout: 'tidy',
  study: {
    title: 'Which of two meters is right? (invented)',
    reference: {
      name: 'Trusted head R',
      resolution_mW: 0.1,
      rated_max_mW: 1000,
      expanded_uncertainty_percent: 5,
      coverage_factor: 2,
      wavelength_setting: false,
    },
    candidate: {
      name: 'Drawer meter E',
      resolution_mW: 0.1,
      rated_max_mW: 1000,
      wavelength_setting: false,
    },
    sources: [
      { name: 'red module', wavelength_nm: 638, label_class: '3B', label_max_mW: 250 },
      { name: 'violet module', wavelength_nm: 405, label_class: '3B', label_max_mW: 120 },
      { name: 'green module', wavelength_nm: 520, label_class: '3B', label_max_mW: 60 },
    ],
    protocol: { order: 'ABBA-BAAB', read_at_s: 25 },
    tolerance_percent: 5,
  },
  series: [
    {
      id: 'red',
      source: 'red module',
      starts_min: 0,
      reference_error: 0.006,
      bench: { ...USUAL, level_mW: 196.5, factor: 1.13 },
    },
    {
      id: 'violet',
      source: 'violet module',
      starts_min: 15,
      reference_error: -0.09,
      bench: { ...USUAL, level_mW: 88.4, factor: 0.995 },
    },
    {
      id: 'green',
      source: 'green module',
      starts_min: 30,
      reference_error: 0.004,
      bench: { ...USUAL, level_mW: 44.1, factor: 0.87 },
    },
  ],
  opinions: [
    {
      source: 'red module',
      kind: 'certificate',
      value_mW: 198.1,
      expanded_uncertainty_mW: 4,
      coverage_factor: 2,
      date: '2025-01-20',
      note: 'invented certificate; module measured warm at its rated current',
    },
    {
      source: 'red module',
      kind: 'maker',
      value_mW: 205,
      expanded_uncertainty_mW: null,
      coverage_factor: null,
      date: '2022-06-01',
      note: 'invented test slip, as new',
    },
    {
      source: 'red module',
      kind: 'third-meter',
      value_mW: 193,
      expanded_uncertainty_mW: 10,
      coverage_factor: 2,
      date: '2025-04-05',
    },
    {
      source: 'violet module',
      kind: 'certificate',
      value_mW: 88.9,
      expanded_uncertainty_mW: 1.9,
      coverage_factor: 2,
      date: '2025-01-20',
      note: 'invented certificate',
    },
    {
      source: 'violet module',
      kind: 'third-meter',
      value_mW: 90.1,
      expanded_uncertainty_mW: 4.5,
      coverage_factor: 2,
      date: '2025-04-05',
    },
    {
      source: 'green module',
      kind: 'maker',
      value_mW: 45,
      expanded_uncertainty_mW: null,
      coverage_factor: null,
      date: '2023-03-01',
      note: 'invented test slip, as new',
    },
  ],
  story: [
    'The setting: a small theatre group owns two meters and trusts the dearer one. For two of its lasers there is a laboratory certificate, for two a slip of paper that says what the laser gave as new, and a friend brought a third meter. `opinions.json` holds these values.',
  ],
  hidden: [
    'Red: the reference is right within 1 %, the candidate reads 12 % low.',
    'Violet: the *reference* is wrong here, 9 % low, far outside its stated 5 %; the candidate is right.',
    'Green: the candidate reads 15 % high. There is only the as-new value of 45 mW.',
  ],
  expect: [
    'Red: certificate and third meter side with the reference, and the as-new value contradicts neither meter.',
    'Violet: certificate and third meter side with the candidate. The factor relative to this reference must not be used at 405 nm; the reference needs attention.',
    'Green: a diode does not gain power with age, so a reading plainly above the as-new value speaks against the meter that shows it. An as-new value without an uncertainty carries no more weight than that.',
  ],
};
