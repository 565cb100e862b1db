import type { Scenario } from '../scenario.js';

/** The shortest way to write a study down: one row a lap, no times. */
export const sideBySide: Scenario = {
  folder: '2-side-by-side',
  seed: 1_402_668_913,
  opens_at: null,
  layout: 'side-by-side',
  study: {
    title: 'Two lasers of a school collection (invented)',
    reference: {
      name: 'Loan meter R',
      resolution_mW: 0.01,
      rated_max_mW: 200,
      wavelength_setting: false,
    },
    candidate: {
      name: 'Drawer meter D',
      resolution_mW: 0.1,
      rated_max_mW: 1000,
      wavelength_setting: false,
    },
    sources: [
      { name: 'spirit level line', wavelength_nm: 650, label_class: '2', label_max_mW: 1 },
      { name: 'interference kit diode', wavelength_nm: 635, label_class: '3R', label_max_mW: 5 },
    ],
    protocol: { order: 'ABBA', read_at_s: 30 },
    tolerance_percent: 10,
  },
  series: [
    {
      id: 'spirit level',
      source: 'spirit level line',
      starts_min: 0,
      reference_error: -0.01,
      bench: {
        laps: 10,
        order: 'ABBA',
        level_mW: 2.63,
        factor: 1.17,
        noise: { reference: 0.004, candidate: 0.012 },
        source: { noise: 0.004, drift: { linear_per_run: -0.0015 } },
      },
    },
    {
      id: 'interference kit',
      source: 'interference kit diode',
      starts_min: 0,
      reference_error: -0.01,
      bench: {
        laps: 8,
        order: 'ABBA',
        level_mW: 12.4,
        factor: 1.14,
        noise: { reference: 0.004, candidate: 0.01 },
        source: { noise: 0.003, drift: { linear_per_run: -0.001 } },
      },
      incidents: [{ run: 9, note: 'fresh cell' }],
    },
  ],
  story: [
    'The setting: a technician of a school goes through the laser collection with a borrowed meter and the drawer meter of the store. Whoever lent the reference could not say when it was last calibrated, so study.json states no uncertainty. The table has one row for each lap, both numbers side by side, and the order of the two alternates (reference first, candidate first, and so on), which `protocol.order` says: ABBA.',
  ],
  hidden: [
    'The spirit level says "class 2, 1 mW" and gives 2.6 mW; the diode of the interference kit says "class 3R, 5 mW" and gives about two and a half times that.',
    'The reference reads 1 % low. Without a certificate nobody can put a number on that.',
    'The candidate shows the spirit level in steps of 0.1 mW, which is more than 4 % of its reading.',
  ],
  expect: [
    'Factors that hold *relative to this reference only*.',
    'The order ABBA cancels the steady drift by design.',
    'Both labels understate. The reference states no uncertainty, so a guess has to stand in for it before anybody says how far below the 5 mW limit of class 3R the spirit level stays; the judgement has to say so.',
  ],
};
