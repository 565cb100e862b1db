/** Factors made to measure, as a factors.json holds them. */

import type { FactorEntry, Factors } from '../src/vocabulary.js';
import { atOneLevel } from './fullRecords.js';

export const entry = (wavelength_nm: number, factor: number, u: number): FactorEntry =>
  atOneLevel({
    wavelength_nm,
    factor,
    low: factor * (1 - 2 * u),
    high: factor * (1 + 2 * u),
    relative_standard_uncertainty: u,
    dof: 1e6,
    relative_expanded_uncertainty: 2 * u,
    coverage_factor: 2,
    candidate_range_mW: [40, 60],
    reading_relative_sd: 0.01,
    reading_dof: 7,
    verdict: 'correct-it',
  });

/** Factors at 520 nm: K = 1 + number ÷ 10, u = 2.5 %, of which 1.5 % by the reference. */
export function madeFactors(number: number, changes: Partial<Factors> = {}): Factors {
  return {
    schema: 'meterpair.factors/2',
    date: null,
    data_sha256: String(number).repeat(64).slice(0, 64),
    title: `Evening ${number}`,
    direction: 'corrected = factor × candidate reading',
    reference: {
      name: 'Meter R',
      uncertainty_stated: true,
      relative_standard_uncertainty: 0.015,
    },
    candidate: { name: `Unit ${number}`, resolution_mW: 1, rated_max_mW: null },
    confidence: 0.95,
    tolerance_percent: 5,
    wavelength_range_nm: [520, 520],
    factors: [entry(520, 1 + number / 10, 0.025)],
    cautions: [],
    ...changes,
  };
}
