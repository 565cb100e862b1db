import type { FactorEntry, Factors } from '../../src/vocabulary.js';
import { atOneLevel } from '../fullRecords.js';

export const ENTRY: FactorEntry = atOneLevel({
  wavelength_nm: 520,
  factor: 1.1,
  low: 1.07,
  high: 1.13,
  relative_standard_uncertainty: 0.012,
  dof: 9,
  relative_expanded_uncertainty: 0.0271,
  coverage_factor: 2.26,
  candidate_range_mW: [20, 60],
  reading_relative_sd: 0.005,
  reading_dof: 16,
  next_series_relative_sd: 0,
  next_series_dof: 8,
  verdict: 'correct-it',
});

/** Invented factors of two wavelengths. */
export const FACTORS: Factors = {
  schema: 'meterpair.factors/2',
  date: '2024-05-01',
  // Readings of today are not late for them.
  recheck_after_months: 12_000,
  data_sha256: '0'.repeat(64),
  title: 'Invented',
  reading: {
    kind: 'as-read',
    read_at_s: null,
    candidate_time_constant_s: null,
    candidate_time_constant_standard_uncertainty_s: null,
    why: 'For readings as they were taken.',
  },
  direction: 'corrected = factor × candidate reading',
  reference: { name: 'bench meter', uncertainty_stated: true },
  candidate: { name: 'drawer meter', resolution_mW: 1, rated_max_mW: 500 },
  confidence: 0.95,
  tolerance_percent: 5,
  wavelength_range_nm: [520, 650],
  factors: [
    ENTRY,
    atOneLevel({
      ...ENTRY,
      wavelength_nm: 650,
      factor: 1.2,
      low: 1.16,
      high: 1.24,
      relative_standard_uncertainty: 0.015,
      dof: 20,
      candidate_range_mW: [30, 90],
    }),
  ],
  cautions: [],
};
