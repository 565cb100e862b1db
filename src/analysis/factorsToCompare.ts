/** A result and a file of factors in one form, for comparing them. */
import { REFERENCE_CALIBRATION } from '../budget/index.js';
import { type DatedFactor, type StatedReference, statedReference } from '../decide/index.js';
import type { Factors, Result } from '../vocabulary.js';

/** What is needed of a result: of the study, its meters and its wavelengths. */
export type ResultToCompare = Pick<
  Result,
  'data_sha256' | 'reference' | 'candidate' | 'confidence' | 'tolerance_percent' | 'wavelengths'
>;

/** What a study found at one wavelength; `value` is `null` where it gives no factor. */
export interface ComparedFactor {
  readonly wavelength_nm: number;
  readonly value: DatedFactor | null;
}

export interface ComparedFactors {
  readonly data_sha256: string;
  readonly candidate: string;
  readonly reference: StatedReference;
  readonly entries: readonly ComparedFactor[];
}

export function factorsToCompare(source: ResultToCompare | Factors): ComparedFactors {
  if ('factors' in source) {
    return {
      data_sha256: source.data_sha256,
      candidate: source.candidate.name,
      reference: statedReference(source),
      entries: source.factors.map(
        ({ wavelength_nm, factor, relative_standard_uncertainty, dof }) => ({
          wavelength_nm,
          value: { factor, relative_standard_uncertainty, dof },
        }),
      ),
    };
  }
  return {
    data_sha256: source.data_sha256,
    candidate: source.candidate,
    reference: { name: source.reference, relative_standard_uncertainty: calibrationOf(source) },
    entries: source.wavelengths.map(
      ({ wavelength_nm, factor, relative_standard_uncertainty: u, dof }) => ({
        wavelength_nm,
        value:
          factor === null || u === null || dof === null
            ? null
            : { factor, relative_standard_uncertainty: u, dof },
      }),
    ),
  };
}

/** Relative standard uncertainty of the reference in this result; `null` when it states none. */
function calibrationOf({ wavelengths }: ResultToCompare): number | null {
  const line = wavelengths
    .flatMap((one) => one.budget)
    .find((part) => part.name === REFERENCE_CALIBRATION);
  return line?.relative_standard_uncertainty ?? null;
}
