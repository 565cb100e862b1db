import type { BenchOptions } from '../benchOptions.js';
import type { BeamPart, Scenario } from '../scenario.js';
import { BENCH_HEAD_R, DRAWER_METER_C } from './meters.js';

const USUAL = {
  laps: 8,
  order: 'ABBA-BAAB',
  noise: { reference: 0.003, candidate: 0.006 },
  run_interval_s: 50,
  jitter_s: 6,
} satisfies Partial<BenchOptions>;

/** Green, pump and fundamental, with the candidate's true factor at each. */
const BEAM: readonly BeamPart[] = [
  { wavelength_nm: 532, power_mW: 64, factor: 1.11 },
  { wavelength_nm: 808, power_mW: 14, factor: 0.88 },
  { wavelength_nm: 1064, power_mW: 24, factor: 0.84 },
];

/** A frequency-doubled green source that also gives infrared, with and without filters. */
export const greenLeak: Scenario = {
  folder: '6-green-leak',
  seed: 1_541_903_288,
  opens_at: '2025-03-21T19:00:00Z',
  layout: 'tidy',
  study: {
    title: 'Infrared beside the green (invented)',
    reference: { ...BENCH_HEAD_R, wavelength_setting: false },
    candidate: DRAWER_METER_C,
    sources: [
      { name: 'doubled crystal head', wavelength_nm: 532, label_class: '3B', label_max_mW: 70 },
      { name: 'green diode module', wavelength_nm: 520, label_class: '3B', label_max_mW: 80 },
    ],
    filters: [
      {
        name: 'infrared block',
        transmissions: [
          { wavelength_nm: 532, transmission: 0.86, standard_uncertainty: 0.006 },
          { wavelength_nm: 808, transmission: 0.002, standard_uncertainty: 0.001 },
          { wavelength_nm: 1064, transmission: 0.004, standard_uncertainty: 0.002 },
        ],
      },
      {
        name: 'long pass',
        transmissions: [
          { wavelength_nm: 532, transmission: 0.0005, standard_uncertainty: 0.0003 },
          { wavelength_nm: 808, transmission: 0.9, standard_uncertainty: 0.008 },
          { wavelength_nm: 1064, transmission: 0.91, standard_uncertainty: 0.008 },
        ],
      },
    ],
    protocol: { order: 'ABBA-BAAB', read_at_s: 25 },
    tolerance_percent: 5,
  },
  series: [
    ...[undefined, 'infrared block', 'long pass'].map((filter, index) => ({
      id: filter === undefined ? 'doubled bare' : `doubled ${filter}`,
      source: 'doubled crystal head',
      starts_min: 17 * index,
      reference_error: 0.008,
      beam: BEAM,
      ...(filter === undefined ? {} : { filter }),
      bench: {
        ...USUAL,
        // Stand-ins: the beam sets power and factor.
        level_mW: 1,
        factor: 1,
        source: { noise: 0.008, drift: { linear_per_run: -0.0008 } },
      },
    })),
    {
      id: 'green diode',
      source: 'green diode module',
      starts_min: 52,
      reference_error: 0.008,
      bench: {
        ...USUAL,
        level_mW: 71,
        factor: 1.12,
        source: { noise: 0.003, drift: { linear_per_run: -0.0005 } },
      },
    },
  ],
  story: [
    'The setting: at the repair workshop somebody wonders why the drawer meter suits one green laser and not another. One is a diode of 520 nm. The other makes its 532 nm by frequency doubling, and such a laser can let infrared out with the green. Both heads are broadband and count whatever arrives. So the series is repeated behind a filter that blocks infrared, and as a check behind one that blocks green. `filters` in study.json says what each lets through.',
  ],
  hidden: [
    'Of 102 mW bare, 64 mW are green, 14 mW pump light of 808 nm and 24 mW fundamental of 1064 nm. The infrared is invisible, and no blink answers to it.',
    'The candidate has another factor for infrared (0.88 and 0.84) than for green (1.11), so the bare beam shows a factor that fits neither.',
  ],
  expect: [
    'Green and infrared told apart by bare and blocked series: R0 = G + I, R1 = τG·G + τI·I.',
    'The factor of the blocked series (about 1.11, near that of the 520 nm diode) against that of the bare beam (about 1.00).',
    'The label of 70 mW holds for the green alone; the whole light is stronger than it says. Infrared through protective eyewear made for green is the danger here.',
  ],
};
