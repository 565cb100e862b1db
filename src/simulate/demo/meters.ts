import type { ScenarioMeter } from '../scenario.js';

/** The trusted meter of the invented workshop. */
export const BENCH_HEAD_R: ScenarioMeter = {
  name: 'Bench head R',
  resolution_mW: 0.1,
  rated_max_mW: 5000,
  expanded_uncertainty_percent: 3,
  coverage_factor: 2,
  wavelength_setting: true,
};

/** The meter of the invented workshop that nobody calibrated. */
export const DRAWER_METER_C: ScenarioMeter = {
  name: 'Drawer meter C',
  resolution_mW: 1,
  rated_max_mW: 3000,
  wavelength_setting: false,
};
