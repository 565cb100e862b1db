import { argumentWrong } from '../../error.js';
import { compareFactors } from '../../factors/analyseThenAndNow.js';
import { CHANGE_WORDS } from '../../findings/findingWords.js';
import {
  formatInterval,
  formatNumber,
  formatRelative,
  formatWithin,
} from '../../findings/formatNumber.js';
import type { ChangeOfFactor, Factors } from '../../vocabulary.js';
import { atWavelength } from '../../wavelengths/atWavelength.js';
import type { TrueFactor } from '../invented.js';
import type { TableRow } from '../tableHtml.js';

/** What the uncertainty of a change is made of, all as fractions. */
export interface ChangeParts {
  readonly found: ChangeOfFactor;
  readonly u_then: number;
  readonly u_now: number;
  /** Part that both factors share by the reference; 0 when there is none. */
  readonly shared: number;
  /** Of the change, if nothing were shared. */
  readonly u_in_full: number;
  /** Of the change, without what is shared. */
  readonly u_change: number;
}

/**
 * The changes between two sets of factors, with the parts of their uncertainty.
 *
 * @throws argument-wrong when there is no wavelength at which they can be compared
 */
export function changeParts(then: Factors, now: Factors): readonly ChangeParts[] {
  const { wavelengths, why, common_relative_standard_uncertainty } = compareFactors(then, now);
  const parts = wavelengths.flatMap((found) => {
    const before = atWavelength(then.factors, found.wavelength_nm);
    const after = atWavelength(now.factors, found.wavelength_nm);
    const u_change = found.relative_standard_uncertainty;
    if (before === undefined || after === undefined || u_change === null) return [];
    const [u_then, u_now] = [before, after].map((one) => one.relative_standard_uncertainty);
    const common = common_relative_standard_uncertainty ?? 0;
    const shared = common <= Math.min(u_then, u_now) ? common : 0;
    return [{ found, u_then, u_now, shared, u_in_full: Math.hypot(u_then, u_now), u_change }];
  });
  if (parts.length > 0) return parts;
  throw argumentWrong(
    `These two sets of factors cannot be compared. ${why}`,
    then.title,
    now.title,
  );
}

/**
 * The same as a table.
 *
 * @param truth true factors then and now, for invented data
 * @throws argument-wrong as `changeParts`
 */
export function changePartsRows(
  then: Factors,
  now: Factors,
  truth?: readonly (readonly TrueFactor[])[] | undefined,
): readonly TableRow[] {
  return changeParts(then, now).map(({ found, u_then, u_now, shared, u_in_full, u_change }) => ({
    'Wavelength in nm': found.wavelength_nm,
    'u then in %': formatRelative(u_then),
    'u now in %': formatRelative(u_now),
    'Shared in %': formatRelative(shared),
    'u of the change, all counted, in %': formatRelative(u_in_full),
    'u of the change in %': formatRelative(u_change),
    'Change in %': formatWithin(found.change_percent, found.low_percent, found.high_percent),
    'Interval in %': formatInterval(found.low_percent, found.high_percent),
    ...(truth === undefined ? {} : { 'True change in %': trueChange(truth, found.wavelength_nm) }),
    Verdict: CHANGE_WORDS[found.verdict],
  }));
}

function trueChange(truth: readonly (readonly TrueFactor[])[], nm: number): string {
  const [before, after] = truth.map((list) => atWavelength(list, nm)?.factor);
  if (before === undefined || after === undefined) return formatNumber(null);
  const change = 100 * (after / before - 1);
  return formatNumber(Math.abs(change) < 1e-6 ? 0 : change, { digits: 2 });
}
