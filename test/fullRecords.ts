/** What a record needs beside what a test is about. */
import type { FactorEntry, FactorLevel, SettingResult } from '../src/vocabulary.js';

/** A meter of which nothing further is stated. */
export const NOTHING_FURTHER = {
  resolution_mW: null,
  rated_max_mW: null,
  expanded_uncertainty_percent: null,
  coverage_factor: 2,
  wavelength_setting: null,
  time_constant_s: null,
  serial: null,
  linearity_percent: null,
  drift_percent_per_year: null,
  certificate: null,
  recheck_after_months: 12,
} as const;

/** A certificate of the reference that states one wavelength and nothing further. */
export const certificateAt = (
  wavelength_nm: number,
  expanded_uncertainty_percent: number,
  coverage_factor: number,
) => ({
  number: null,
  laboratory: null,
  issued: null,
  valid_until: null,
  by_wavelength: [
    { wavelength_nm, correction_factor: 1, expanded_uncertainty_percent, coverage_factor },
  ],
});

/** What a series under two settings of the candidate showed: at 640 nm a quarter more than at 520 nm. */
export const QUARTER_MORE: SettingResult = {
  series: 'setting',
  meter: 'candidate',
  wavelength_nm: 520,
  from_nm: 520,
  to_nm: 640,
  ratio: 1.25,
  low: 1.2,
  high: 1.3,
  relative_standard_uncertainty: 0.01,
  dof: 6,
  why: '',
} as SettingResult;

/** A study whose record states nothing. */
export const NO_RECORD = {
  date: null,
  place: null,
  operator: null,
  temperature_C: null,
  distance_mm: null,
  remarks: null,
} as const;

type Plain = Omit<FactorEntry, 'levels' | 'offset_mW'> & { readonly placement_u?: number };

/** The one level of an entry whose factor was measured at one power. */
export const levelOf = ({ placement_u = 0, ...entry }: Plain): FactorLevel => ({
  candidate_mW: entry.candidate_range_mW,
  centre_mW: Math.sqrt(entry.candidate_range_mW[0] * entry.candidate_range_mW[1]),
  factor: entry.factor,
  low: entry.low,
  high: entry.high,
  relative_standard_uncertainty: entry.relative_standard_uncertainty,
  dof: entry.dof,
  coverage_factor: entry.coverage_factor,
  placement_relative_standard_uncertainty: placement_u,
  rest_dof: entry.dof,
  own: {
    factor: entry.factor,
    relative_standard_uncertainty: entry.relative_standard_uncertainty,
    dof: entry.dof,
    coverage_factor: entry.coverage_factor,
  },
  series: [],
});

/** An entry with one level of power. */
export function atOneLevel({ placement_u = 0, ...entry }: Plain): FactorEntry {
  return { ...entry, levels: [levelOf({ ...entry, placement_u })], offset_mW: null };
}
