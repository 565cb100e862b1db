import type { BenchOptions } from '../benchOptions.js';
import type { Incident, Scenario, ScenarioSeries } from '../scenario.js';
import { BENCH_HEAD_R, DRAWER_METER_C } from './meters.js';

/** What both meters do in every series of the evening. */
const USUAL = {
  noise: { reference: 0.003, candidate: 0.006 },
  source: { noise: 0.002 },
  run_interval_s: 50,
  jitter_s: 8,
  zero_mW: { reference: 0.1, candidate: 1.1 },
  zero_recorded: true,
  peak_excess: 0.015,
} satisfies Partial<BenchOptions>;

/** The reference reads this much high all evening. */
const REFERENCE_ERROR = 0.008;

/** The candidate's heat sink: nothing is lost up to 700 mW. */
const HEAT_SINK = { onset_mW: 700, droop_per_mW: 3e-5 };

/** First run of a series before which both heads were put up anew. */
const SEATED_ANEW: Incident = { run: 1, note: 'both heads taken out and put back' };

const VIOLET: ScenarioSeries = {
  id: 'violet',
  source: 'violet marker module',
  starts_min: 0,
  reference_error: REFERENCE_ERROR,
  placement: 1.003,
  bench: {
    ...USUAL,
    laps: 10,
    level_mW: 94,
    factor: 1.21,
    source: { noise: 0.002, drift: { droop: { amplitude: 0.14, time_constant_runs: 9 } } },
  },
  incidents: [{ run: 14, note: 'housing warm to the touch' }],
};

const BLUE: readonly ScenarioSeries[] = [
  { id: 'blue lowest', level_mW: 60, starts_min: 22, placement: 1.002 },
  { id: 'blue low', level_mW: 212, starts_min: 38, placement: 0.997 },
  { id: 'blue middle', level_mW: 638, starts_min: 54, placement: 1.004 },
  { id: 'blue high', level_mW: 1850, starts_min: 70, placement: 0.998 },
].map(({ id, level_mW, starts_min, placement }) => ({
  id,
  source: 'blue engraver head',
  starts_min,
  reference_error: REFERENCE_ERROR,
  placement,
  bench: {
    ...USUAL,
    laps: 8,
    order: 'ABBA' as const,
    level_mW,
    factor: 1.08,
    heat_sink: HEAT_SINK,
    source: { noise: 0.002, drift: { linear_per_run: -0.0006 } },
  },
  incidents:
    id === 'blue high' ? [{ run: 10, note: 'heat sink of the candidate hot to the touch' }] : [],
}));

const CYAN: ScenarioSeries = {
  id: 'cyan',
  source: 'cyan diode module',
  starts_min: 90,
  reference_error: REFERENCE_ERROR,
  bench: {
    ...USUAL,
    laps: 9,
    level_mW: 29,
    factor: 1.1,
    source: { noise: 0.05, drift: { wander: 0.05, hop: { probability: 0.15, size: 0.22 } } },
    peak_excess: 0.08,
  },
  incidents: [{ run: 5, note: 'number never stands still; driver board hot' }],
};

const GREEN: readonly ScenarioSeries[] = [
  { id: 'green a', starts_min: 110, placement: 1.006 },
  { id: 'green b', starts_min: 126, placement: 0.995 },
  { id: 'green c', starts_min: 142, placement: 1.001 },
].map(({ id, starts_min, placement }, index) => ({
  id,
  source: 'green bench diode',
  starts_min,
  reference_error: REFERENCE_ERROR,
  placement,
  bench: {
    ...USUAL,
    laps: 8,
    level_mW: 73,
    factor: 1.12,
    source: { noise: 0.003, drift: { linear_per_run: -0.0012 } },
  },
  incidents: index === 0 ? [] : [SEATED_ANEW],
}));

const RED: ScenarioSeries = {
  id: 'red',
  source: 'red line module',
  starts_min: 160,
  reference_error: REFERENCE_ERROR,
  placement: 0.999,
  bench: {
    ...USUAL,
    laps: 10,
    level_mW: 186,
    factor: 1.004,
    source: { noise: 0.002, drift: { linear_per_run: -0.0004 } },
    cold_start: { deficit: 0.13 },
  },
  incidents: [
    { run: 1, note: 'first switch-on of the evening' },
    {
      run: 12,
      reading_factor: 0.71,
      exclude: 'head knocked while the beam was on, part of it missed the sensor',
    },
  ],
};

const INFRARED: readonly ScenarioSeries[] = [
  { id: 'near infrared a', starts_min: 180, placement: 1.004 },
  { id: 'near infrared b', starts_min: 196, placement: 0.996 },
].map(({ id, starts_min, placement }, index) => ({
  id,
  source: 'near-infrared module',
  starts_min,
  reference_error: REFERENCE_ERROR,
  placement,
  bench: {
    ...USUAL,
    laps: 8,
    order: 'ABBA-BAAB' as const,
    level_mW: 268,
    factor: 0.88,
    source: { noise: 0.002, drift: { linear_per_run: -0.0015 } },
  },
  incidents: index === 0 ? [] : [SEATED_ANEW],
}));

const SETTING: ScenarioSeries = {
  id: 'setting of the reference',
  source: 'red line module',
  starts_min: 212,
  setting: { meter: 'reference', from_nm: 638, to_nm: 532 },
  bench: {
    ...USUAL,
    laps: 8,
    order: 'ABBA',
    level_mW: 187,
    factor: 1 / 1.017,
    noise: { reference: 0.003, candidate: 0.003 },
    zero_mW: { reference: 0.1, candidate: 0.1 },
  },
};

/** An evening with six colours' worth of trouble: the study that `npm start` runs. */
export const workshopEvening: Scenario = {
  folder: '1-workshop-evening',
  seed: 1_873_520_146,
  opens_at: '2024-11-08T17:40:00Z',
  layout: 'tidy',
  study: {
    title: 'An evening at the repair workshop (invented)',
    reference: BENCH_HEAD_R,
    candidate: DRAWER_METER_C,
    sources: [
      { name: 'violet marker module', wavelength_nm: 405, label_class: '3R', label_max_mW: 5 },
      { name: 'blue engraver head', wavelength_nm: 450, label_class: '4', label_max_mW: 2000 },
      { name: 'cyan diode module', wavelength_nm: 488, label_class: '3B', label_max_mW: 60 },
      { name: 'green bench diode', wavelength_nm: 520, label_class: '3B', label_max_mW: 90 },
      { name: 'red line module', wavelength_nm: 638, label_class: '3B', label_max_mW: 250 },
      { name: 'near-infrared module', wavelength_nm: 808, label_class: '3B', label_max_mW: 300 },
    ],
    record: {
      date: '2024-11-08',
      place: 'repair workshop (invented)',
      operator: 'the owner (invented)',
      temperature_C: 21,
    },
    protocol: { read_at_s: 25 },
    tolerance_percent: 5,
    confidence: 0.95,
  },
  series: [VIOLET, ...BLUE, CYAN, ...GREEN, RED, ...INFRARED, SETTING],
  story: [
    'The setting: one evening at a community repair workshop. People bring lasers from broken machines and ask how strong they are. The workshop owns a drawer meter that nobody ever calibrated, and has borrowed a bench head with a certificate. Two volunteers put both in front of every laser, turn about, read each 25 s after switch-on, look at the dark reading before each run, and write everything down. Everybody wears eyewear for the wavelength in use; the beam ends in a matt block.',
  ],
  hidden: [
    'The factor differs by colour, from 0.88 to 1.21: the coating of the candidate does not absorb all colours alike.',
    'The violet marker module, out of a machine that marks plastic boards, was sold as "class 3R, 5 mW" and gives up to 94 mW, about 19 times as much.',
    'The violet marker module droops while it warms. The reference went first in every lap, so plain lap differences carry one step of the droop.',
    'The blue engraver head was measured at four powers, from 60 to 1850 mW. Up to 700 mW its factor is one and the same; above that the heat sink of the candidate warms up and the candidate reads low: about 3.5 % low at the highest power.',
    'The current driver of the cyan diode module is failing: the power wanders and jumps between two levels from run to run. Its label is right.',
    'The green bench diode is labelled rightly. It was measured three times and the near-infrared module twice, with both heads taken out and put back in between; the placement moves the factor by up to about half a percent each way.',
    'The red line module starts cold: its first run, on the reference, is 13 % low. In run 12 somebody knocked the head; the run is marked with its reason.',
    'The reference reads 0.8 % high on everything, well inside the 3 % of its certificate. Nothing in these data can show that.',
    'The dark reading of the candidate is 1.1 mW, but its display shows 1 mW. The remaining 0.1 mW stays in every candidate reading.',
    'In the last series the reference alone looks at the red module under two wavelength settings. The wrong setting (532 nm) makes it read 1.7 % high.',
  ],
  expect: [
    'No common factor: each wavelength needs its own.',
    'At 405, 520 and 808 nm the candidate is plainly off and the factor corrects it; at 638 nm nothing speaks for a correction.',
    'At 450 nm the four series disagree beyond their scatter, because of the power: the factor depends on it, by about 3.5 % at the top. One factor for all powers has to carry that in its uncertainty.',
    'The cyan diode module is inconclusive: an unstable source teaches nothing about the meter.',
    'The cold run and the declared run of the red module are left out with their reasons, and both still count for the hazard if they were the strongest.',
    'The label of the violet marker module understates the hazard: it is class 3B by these readings.',
    'More laps would help little: where the series are steady, the certificate of the reference dominates the budget.',
  ],
};
