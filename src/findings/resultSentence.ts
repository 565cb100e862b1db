/** The result of a measurement in one sentence, as it may be quoted. */
import type { WavelengthResult } from '../vocabulary.js';
import {
  formatDegreesOfFreedom,
  formatInterval,
  formatNumber,
  formatRelative,
} from './formatNumber.js';
import { formatUncertain } from './formatUncertain.js';
import { confidenceWords, isSettled } from './words.js';

/**
 * Value, expanded uncertainty, combined standard uncertainty, coverage factor, degrees of freedom and
 * level of confidence of K at one wavelength; `null` where there is no factor to quote.
 *
 * @param confidence 0 to 1
 * @see JCGM 100:2008, 7.2.3 and 7.2.4
 */
export function resultSentence(one: WavelengthResult, confidence: number): string | null {
  if (!isSettled(one) || one.factor === null) return null;
  const U = one.factor * (one.relative_expanded_uncertainty ?? 0);
  const u = formatRelative(one.relative_standard_uncertainty);
  const k = formatNumber(one.coverage_factor, { digits: 3, keepZeros: true });
  return `K(${formatNumber(one.wavelength_nm)} nm) = ${formatUncertain(one.factor, U)}, where the number after ± is the expanded uncertainty U = K·(exp(k·u) − 1), with the relative combined standard uncertainty u = ${u} % and the coverage factor k = ${k} from the distribution of the budget (effective degrees of freedom ${formatDegreesOfFreedom(one.dof)}); the interval that is estimated to hold K with a level of confidence of ${confidenceWords(confidence)} is ${formatInterval(one.low, one.high)}.`;
}
