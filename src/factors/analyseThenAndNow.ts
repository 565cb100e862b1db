/** The factors of an earlier study against those of this one. */

import { sameName, sharedReference } from '../opinions/sharedReference.js';
import type { DatedFactor } from '../opinions/withoutCommon.js';
import { isBefore, monthsBetween } from '../record/days.js';
import { sentences } from '../statistics/sentences.js';
import type { ChangeOfFactor, Factors, ThenAndNow, Warning } from '../vocabulary.js';
import { atWavelength } from '../wavelengths/atWavelength.js';
import {
  type ComparedFactor,
  type ComparedFactors,
  factorsToCompare,
  otherKind,
  type ResultToCompare,
  sameData,
} from './factorsToCompare.js';
import { thenAndNow } from './thenAndNow.js';

/**
 * Has the candidate moved since an earlier study? Wavelength by wavelength, beyond both
 * uncertainties.
 *
 * What both factors owe to the calibration of the reference is left out when the reference has the
 * same name and states the same uncertainty in both studies. A reference that was calibrated anew in
 * between brings its own uncertainty twice: give it another name.
 *
 * @param earlier the factors.json of the earlier study
 * @param later result or factors.json of the later study
 * @returns changes in percent of the earlier factor (positive: a candidate reading now has to be
 *   multiplied by more, so the candidate reads lower). `not-comparable` entries hold `null` and why
 */
export function compareFactors(earlier: Factors, later: ResultToCompare | Factors): ThenAndNow {
  const then = factorsToCompare(earlier);
  const now = factorsToCompare(later);
  const { sameName: oneName, same, common } = sharedReference([then.reference, now.reference]);
  const obstacle = obstacleTo(then, now);
  const between =
    then.date === null || now.date === null ? null : monthsBetween(then.date, now.date);
  const wavelengths = now.entries.map((one) => {
    const before = atWavelength(then.entries, one.wavelength_nm);
    if (obstacle !== '') return notComparable(one.wavelength_nm, before, one, obstacle);
    return change(before, one, { same, common, later });
  });
  const gone = then.entries
    .filter((entry) => atWavelength(now.entries, entry.wavelength_nm) === undefined)
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
    earlier_date: then.date,
    months_between: between,
    same_reference: same,
    common_relative_standard_uncertainty: obstacle === '' ? common : null,
    wavelengths: [...wavelengths, ...gone].sort((a, b) => a.wavelength_nm - b.wavelength_nm),
    why: obstacle || `${exchange(then, now) || timeWords(between)} ${basis(oneName, same, common)}`,
  };
}

/** The same, `null` without earlier factors, and what the reader has to know of it. */
export function analyseThenAndNow(
  earlier: Factors | null,
  result: ResultToCompare,
): { readonly result: ThenAndNow | null; readonly warnings: readonly Warning[] } {
  if (earlier === null) return { result: null, warnings: [] };
  const found = compareFactors(earlier, result);
  const nothing = nothingCompared(found);
  const exchanged = nothing === '' ? exchange(earlier, result) : '';
  return {
    result: found,
    warnings: [
      ...(nothing === ''
        ? []
        : [
            {
              code: 'factors-not-comparable',
              message: `Nothing of "${found.earlier_title}" can be compared with this study. ${nothing}`,
            },
          ]),
      ...(exchanged === '' ? [] : [{ code: 'earlier-is-younger', message: exchanged }]),
      ...found.wavelengths
        .filter((one) => one.verdict === 'moved')
        .map((one) => ({
          code: 'factor-moved',
          message: `At ${one.wavelength_nm} nm the factor has moved ${exchanged === '' ? 'since the earlier study' : 'between both studies'}. ${one.why}`,
        })),
    ],
  };
}

/** Why no wavelength can be compared, each reason once; empty where one can. */
export function nothingCompared({ wavelengths, why }: ThenAndNow): string {
  if (wavelengths.some(({ verdict }) => verdict !== 'not-comparable')) return '';
  return sentences([
    ...new Set(wavelengths.length === 0 ? [why] : wavelengths.map((one) => one.why)),
  ]);
}

/** That the factors called earlier are the younger ones; empty where they are not, or a day is not stated. */
function exchange(then: Pick<ComparedFactors, 'date'>, now: Pick<ComparedFactors, 'date'>): string {
  return then.date === null || now.date === null || !isBefore(now.date, then.date)
    ? ''
    : `The factors called earlier are of ${then.date}, this study of ${now.date}: then and now are exchanged. The younger factors are those called earlier, and a change is to be read the other way round.`;
}

function obstacleTo(then: ComparedFactors, now: ComparedFactors): string {
  if (!sameName(then.candidate, now.candidate)) {
    return `The earlier factors are those of another candidate ("${then.candidate}", here "${now.candidate}").`;
  }
  return sameData(then, now)
    ? 'The earlier factors come from the very data of this study.'
    : otherKind(then.reading, now.reading);
}

function notComparable(
  nm: number,
  before: Pick<ComparedFactor, 'value'> | undefined,
  now: Pick<ComparedFactor, 'value'> | undefined,
  why: string,
): ChangeOfFactor {
  return {
    wavelength_nm: nm,
    earlier_factor: before?.value?.factor ?? null,
    factor: now?.value?.factor ?? null,
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
  readonly later: Pick<Factors, 'tolerance_percent' | 'confidence'>;
}

function change(
  before: ComparedFactor | undefined,
  now: ComparedFactor,
  { same, common, later }: Basis,
): ChangeOfFactor {
  const { wavelength_nm: nm } = now;
  if (before?.value === undefined || before.value === null) {
    return notComparable(nm, before, now, 'The earlier study has no factor at this wavelength.');
  }
  if (now.value === null) {
    return notComparable(nm, before, now, 'This study gives no factor at this wavelength.');
  }
  return changeOfFactor(nm, before.value, now.value, { same, common, later });
}

/** One factor against another of the same wavelength, with the words for it. */
export function changeOfFactor(
  nm: number,
  before: DatedFactor,
  now: DatedFactor,
  { same, common, later }: Basis,
): ChangeOfFactor {
  const least = Math.min(now.relative_standard_uncertainty, before.relative_standard_uncertainty);
  const found = thenAndNow({
    earlier: before,
    now,
    sameReference: same && (common ?? 0) <= least,
    referenceRelativeUncertainty: common,
    tolerance: later.tolerance_percent / 100,
    confidence: later.confidence,
  });
  if (![found.change, found.low, found.high].every((one) => Number.isFinite(100 * one))) {
    const why = 'The change, or the end of its interval, is too large to be a number.';
    return notComparable(nm, { value: before }, { value: now }, why);
  }
  return {
    wavelength_nm: nm,
    earlier_factor: before.factor,
    factor: now.factor,
    change_percent: 100 * found.change,
    low_percent: 100 * found.low,
    high_percent: 100 * found.high,
    relative_standard_uncertainty: found.relativeStandardUncertainty,
    dof: found.dof,
    verdict: found.verdict,
    why: found.why,
  };
}

/** How much time a change had. */
function timeWords(months: number | null): string {
  if (months === null)
    return 'How much time lies between is not known: one of the studies has no date.';
  return months === 0 ? 'Both are of the same month.' : `${months} months lie between.`;
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
