/** The factors of an earlier study against those of this one. */
import { REFERENCE_CALIBRATION } from './budget/index.js';
import { SAME_WAVELENGTH_NM } from './correct/index.js';
import { thenAndNow } from './decide/index.js';
import type {
  ChangeOfFactor,
  FactorEntry,
  Factors,
  Result,
  ThenAndNow,
  Warning,
  WavelengthResult,
} from './vocabulary.js';

/** What is needed of a result: of the study, its meters and its wavelengths. */
export type ResultToCompare = Pick<
  Result,
  'data_sha256' | 'reference' | 'candidate' | 'confidence' | 'tolerance_percent' | 'wavelengths'
>;

/** Stated uncertainties that differ by less are the same but for rounding. */
const SAME_UNCERTAINTY = 1e-6;

/**
 * Has the candidate moved since an earlier study? Wavelength by wavelength, beyond both
 * uncertainties.
 *
 * What both factors owe to the calibration of the reference is left out when the reference has the
 * same name and states the same uncertainty in both studies. A reference that was calibrated anew in
 * between brings its own uncertainty twice: give it another name.
 *
 * @param earlier the factors.json of the earlier study
 * @param result of the later study
 * @returns changes in percent of the earlier factor (positive: a candidate reading now has to be
 *   multiplied by more, so the candidate reads lower). `not-comparable` entries hold `null` and why
 */
export function compareFactors(earlier: Factors, result: ResultToCompare): ThenAndNow {
  const now = calibrationOf(result);
  const then = calibrationThen(earlier, now);
  const sameName = nameOf(earlier.reference.name) === nameOf(result.reference);
  const sameStatement =
    (then === null && now === null) ||
    (then !== null && now !== null && Math.abs(then - now) <= SAME_UNCERTAINTY * now);
  const same = sameName && sameStatement;
  const obstacle = obstacleTo(earlier, result);
  const wavelengths = result.wavelengths.map((one) => {
    const before = nearest(earlier.factors, one.wavelength_nm);
    if (obstacle !== '') return notComparable(one.wavelength_nm, before, one, obstacle);
    return change(before, one, { same, common: same ? now : null, result });
  });
  const gone = earlier.factors
    .filter((entry) => nearest(result.wavelengths, entry.wavelength_nm) === undefined)
    .map((entry) =>
      notComparable(
        entry.wavelength_nm,
        entry,
        undefined,
        obstacle || 'This study has no series at this wavelength.',
      ),
    );
  return {
    earlier_title: earlier.title,
    earlier_data_sha256: earlier.data_sha256,
    same_reference: same,
    common_relative_standard_uncertainty: same && obstacle === '' ? now : null,
    wavelengths: [...wavelengths, ...gone].sort((a, b) => a.wavelength_nm - b.wavelength_nm),
    why: obstacle || basis(sameName, same, now),
  };
}

/** The same, `null` without earlier factors, and what the reader has to know of it. */
export function analyseThenAndNow(
  earlier: Factors | null,
  result: ResultToCompare,
): { readonly result: ThenAndNow | null; readonly warnings: readonly Warning[] } {
  if (earlier === null) return { result: null, warnings: [] };
  const found = compareFactors(earlier, result);
  return {
    result: found,
    warnings: found.wavelengths
      .filter((one) => one.verdict === 'moved')
      .map((one) => ({
        code: 'factor-moved',
        message: `At ${one.wavelength_nm} nm the factor has moved since the earlier study. ${one.why}`,
      })),
  };
}

/** Relative standard uncertainty of the reference in this result; `null` when it states none. */
function calibrationOf(result: ResultToCompare): number | null {
  const line = result.wavelengths
    .flatMap((one) => one.budget)
    .find((part) => part.name === REFERENCE_CALIBRATION);
  return line?.relative_standard_uncertainty ?? null;
}

/** The same of the earlier one. A file that does not say how large it was is taken to mean the same. */
function calibrationThen(earlier: Factors, now: number | null): number | null {
  const { uncertainty_stated, relative_standard_uncertainty: written } = earlier.reference;
  if (written !== undefined) return written;
  return uncertainty_stated ? now : null;
}

const nameOf = (text: string) => text.trim().toLowerCase();

function obstacleTo(earlier: Factors, result: ResultToCompare): string {
  if (nameOf(earlier.candidate.name) !== nameOf(result.candidate)) {
    return `The earlier factors are those of another candidate ("${earlier.candidate.name}", here "${result.candidate}").`;
  }
  return earlier.data_sha256 === result.data_sha256
    ? 'The earlier factors come from the very data of this study.'
    : '';
}

function nearest<T extends { readonly wavelength_nm: number }>(
  list: readonly T[],
  nm: number,
): T | undefined {
  const distance = (one: T) => Math.abs(one.wavelength_nm - nm);
  return list
    .filter((one) => distance(one) <= SAME_WAVELENGTH_NM)
    .sort((a, b) => distance(a) - distance(b))[0];
}

function notComparable(
  nm: number,
  before: FactorEntry | undefined,
  now: WavelengthResult | undefined,
  why: string,
): ChangeOfFactor {
  return {
    wavelength_nm: nm,
    earlier_factor: before?.factor ?? null,
    factor: now?.factor ?? null,
    change_percent: null,
    low_percent: null,
    high_percent: null,
    relative_standard_uncertainty: null,
    dof: null,
    verdict: 'not-comparable',
    why,
  };
}

interface Basis {
  readonly same: boolean;
  readonly common: number | null;
  readonly result: ResultToCompare;
}

function change(
  before: FactorEntry | undefined,
  now: WavelengthResult,
  { same, common, result }: Basis,
): ChangeOfFactor {
  const { wavelength_nm: nm, factor, relative_standard_uncertainty: u, dof } = now;
  if (before === undefined) {
    return notComparable(nm, before, now, 'The earlier study has no factor at this wavelength.');
  }
  if (factor === null || u === null || dof === null) {
    return notComparable(nm, before, now, 'This study gives no factor at this wavelength.');
  }
  const found = thenAndNow({
    earlier: before,
    now: { factor, relative_standard_uncertainty: u, dof },
    sameReference: same && (common ?? 0) <= Math.min(u, before.relative_standard_uncertainty),
    referenceRelativeUncertainty: common,
    tolerance: result.tolerance_percent / 100,
    confidence: result.confidence,
  });
  return {
    wavelength_nm: nm,
    earlier_factor: before.factor,
    factor,
    change_percent: 100 * found.change,
    low_percent: 100 * found.low,
    high_percent: 100 * found.high,
    relative_standard_uncertainty: found.relative_standard_uncertainty,
    dof: found.dof,
    verdict: found.verdict,
    why: found.why,
  };
}

function basis(sameName: boolean, same: boolean, common: number | null): string {
  if (!sameName) {
    return 'Another reference than then: the calibrations of both count in full.';
  }
  if (!same) {
    return 'The reference states another uncertainty than then, so it is taken to have been calibrated anew: both calibrations count in full.';
  }
  return common === null
    ? 'The same reference, which states no uncertainty: none of it is in either factor.'
    : 'The same reference under the same stated uncertainty: its calibration is common to both factors and left out. If it was calibrated anew in between, that has to count, and the changes are less sure than they look.';
}
