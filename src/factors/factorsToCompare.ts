/** A result and a file of factors in one form, for comparing them. */

import { type StatedReference, statedReference } from '../opinions/sharedReference.js';
import type { DatedFactor } from '../opinions/withoutCommon.js';
import { FACTORS } from '../record/recordShapes.js';
import { requireRecord, requireShape, type Shape } from '../statistics/shapes.js';
import type { Factors, ReadingKind, Result } from '../vocabulary.js';
import { REFERENCE_CALIBRATION } from '../wavelengths/wavelengthContributions.js';

/** What is needed of a result: of the study, its meters and its wavelengths. */
export type ResultToCompare = Pick<
  Result,
  | 'date'
  | 'data_sha256'
  | 'readings_sha256'
  | 'reading'
  | 'reference'
  | 'candidate'
  | 'confidence'
  | 'tolerance_percent'
  | 'wavelengths'
>;

/** What a study found at one wavelength; `value` is `null` where it gives no factor. */
export interface ComparedFactor {
  readonly wavelength_nm: number;
  readonly value: DatedFactor | null;
}

export interface ComparedFactors {
  /** Day of the study; `null` where none is stated. */
  readonly date: string | null;
  readonly data_sha256: string;
  /** `null` in files of before it was written. */
  readonly readings_sha256: string | null;
  readonly reading: ReadingKind | null;
  readonly candidate: string;
  readonly reference: StatedReference;
  readonly entries: readonly ComparedFactor[];
}

const RESULT_TO_COMPARE: Shape = {
  fields: {
    data_sha256: 'text',
    reference: 'text',
    candidate: 'text',
    wavelengths: { list: { fields: { wavelength_nm: 'number' } } },
  },
};

export function factorsToCompare(source: ResultToCompare | Factors): ComparedFactors {
  requireRecord(source, 'What is compared', []);
  requireShape(source, 'What is compared', 'factors' in source ? FACTORS : RESULT_TO_COMPARE);
  if ('factors' in source) {
    return {
      date: source.date,
      data_sha256: source.data_sha256,
      readings_sha256: source.readings_sha256 ?? null,
      reading: source.reading ?? null,
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
    date: source.date,
    data_sha256: source.data_sha256,
    readings_sha256: source.readings_sha256,
    reading: source.reading,
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

/** Whether both come from the same readings, whatever the studies are called. */
export function sameData(a: ComparedFactors, b: ComparedFactors): boolean {
  return (
    a.data_sha256 === b.data_sha256 ||
    (a.readings_sha256 !== null && a.readings_sha256 === b.readings_sha256)
  );
}

/** Why factors hold for other kinds of readings; empty where they may be compared. */
export function otherKind(then: ReadingKind | null, now: ReadingKind | null): string {
  if (then === null || now === null) return '';
  const words = ({ kind, read_at_s }: ReadingKind) =>
    kind === 'settled'
      ? 'settled readings'
      : read_at_s === null
        ? 'readings taken at a time that is not stated'
        : `readings taken ${read_at_s} s after switch-on`;
  const bothTimed = then.read_at_s !== null && now.read_at_s !== null;
  const same =
    then.kind === now.kind &&
    (then.kind === 'settled' || !bothTimed || then.read_at_s === now.read_at_s);
  return same
    ? ''
    : `The earlier factors hold for ${words(then)}, these for ${words(now)}: a change of K could be one of settling. State time constants and reading times in both studies (or give traces) and make the factors anew.`;
}

/**
 * Studies in the order of their days; in the order given where one of them has none. Studies of one
 * day stay as they were given.
 */
export function inTimeOrder<Study extends { readonly date: string | null }>(
  studies: readonly Study[],
): readonly Study[] {
  if (studies.some(({ date }) => date === null)) return studies;
  return [...studies].sort((a, b) => Date.parse(a.date ?? '') - Date.parse(b.date ?? ''));
}
