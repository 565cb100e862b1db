import { contradictsReference } from '../opinions/contradictsReference.js';
import { meterAt, statedRelative } from '../readings/certificate.js';
import { RESULT, STUDY } from '../record/recordShapes.js';
import { readingScatter } from '../series/readingScatter.js';
import { requireShape } from '../statistics/shapes.js';
import type { FactorEntry, Factors, Result, Study, WavelengthResult } from '../vocabulary.js';

/** What everybody who uses a factor has to know; printed on every export. */
export const FACTOR_CAUTIONS: readonly string[] = [
  'Multiply a reading of the candidate by the factor. It holds for this candidate, at the wavelengths and between the powers that were measured.',
  'A corrected reading is not a hazard classification and not a calibration certificate. IEC 60825-1, local rules and a laser safety officer decide how a laser is handled.',
];

const NO_DATE =
  'The study states no date, so nobody can tell when the comparison should be made again: state record.date.';

/**
 * The part of a result that corrects new readings. Wavelengths without a factor are left out.
 *
 * @returns plain data, the same for the same study and result
 */
export function factorsOf(study: Study, result: Result): Factors {
  requireShape(study, 'The study', STUDY);
  requireShape(result, 'The result', RESULT);
  const factors = result.wavelengths.flatMap((one) => entryOf(one, result) ?? []);
  const nm = factors.map((entry) => entry.wavelength_nm);
  return {
    schema: 'meterpair.factors/2',
    date: study.record.date,
    recheck_after_months: study.candidate.recheck_after_months,
    data_sha256: result.data_sha256,
    readings_sha256: result.readings_sha256,
    title: study.title,
    reading: result.reading,
    direction: 'corrected = factor × candidate reading',
    reference: {
      name: study.reference.name,
      uncertainty_stated: nm.every(
        (one) => meterAt(study.reference, one).expanded_uncertainty_percent !== null,
      ),
      relative_standard_uncertainty: statedRelative(study.reference),
    },
    candidate: {
      name: study.candidate.name,
      resolution_mW: study.candidate.resolution_mW,
      rated_max_mW: study.candidate.rated_max_mW,
    },
    confidence: result.confidence,
    tolerance_percent: result.tolerance_percent,
    wavelength_range_nm: nm.length === 0 ? null : [Math.min(...nm), Math.max(...nm)],
    factors,
    cautions: study.record.date === null ? [...FACTOR_CAUTIONS, NO_DATE] : FACTOR_CAUTIONS,
  };
}

/** `null` where the wavelength has no factor. */
function entryOf(wavelength: WavelengthResult, result: Result): FactorEntry | null {
  const { wavelength_nm, factor, low, high, dof, coverage_factor, candidate_range_mW } = wavelength;
  const { relative_standard_uncertainty, relative_expanded_uncertainty } = wavelength;
  const { next_series_relative_sd, next_series_dof } = wavelength;
  if (
    factor === null ||
    low === null ||
    high === null ||
    dof === null ||
    relative_standard_uncertainty === null ||
    relative_expanded_uncertainty === null ||
    coverage_factor === null ||
    candidate_range_mW === null
  ) {
    return null;
  }
  return {
    wavelength_nm,
    factor,
    low,
    high,
    relative_standard_uncertainty,
    dof,
    relative_expanded_uncertainty,
    coverage_factor,
    candidate_range_mW,
    levels: wavelength.levels,
    offset_mW: wavelength.by_power.offset_mW,
    ...readingScatter(result.series.filter(({ id }) => wavelength.series.includes(id))),
    ...(next_series_relative_sd === null || next_series_dof === null
      ? {}
      : { next_series_relative_sd, next_series_dof }),
    verdict: wavelength.verdict,
    ...contradicted(wavelength, result),
  };
}

/** Values from elsewhere at this wavelength that the reference disagrees with. */
function contradicted(
  { wavelength_nm }: WavelengthResult,
  { opinions }: Result,
): Pick<FactorEntry, 'reference_contradicted_by'> {
  const kinds = opinions
    .filter((one) => one.wavelength_nm === wavelength_nm && contradictsReference(one))
    .map((one) => one.kind);
  return kinds.length === 0 ? {} : { reference_contradicted_by: [...new Set(kinds)] };
}
