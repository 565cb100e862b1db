/** Results of measurement as they may be quoted, one for each factor. */
import type { Result, WavelengthResult } from '../vocabulary.js';
import {
  formatDegreesOfFreedom,
  formatInterval,
  formatNumber,
  formatRelative,
} from './formatNumber.js';
import { formatUncertain } from './formatUncertain.js';
import { confidenceWords, isSettled, rangeWords } from './words.js';

/** What the number after ± is in each of the sentences; it stands before them once. */
export function resultPreface(confidence: number): string {
  return `The number after ± is the expanded uncertainty U: the larger distance of K from the ends of the interval [low to high] that is estimated to hold it with a level of confidence of ${confidenceWords(confidence)}. U comes from the relative combined standard uncertainty u and a coverage factor k out of the distribution of the budget, ν being its effective degrees of freedom.`;
}

/**
 * Value, expanded uncertainty, combined standard uncertainty, coverage factor, degrees of freedom and
 * interval of K, one sentence a level of power; none where there is no factor to quote.
 *
 * @see JCGM 100:2008, 7.2.3 and 7.2.4
 */
export function resultSentences({ wavelengths }: Pick<Result, 'wavelengths'>): readonly string[] {
  return wavelengths.filter(isSettled).flatMap(sentences);
}

function sentences(one: WavelengthResult): readonly string[] {
  return one.levels.map((level) => {
    const { factor, low, high } = level;
    const u = formatRelative(level.relative_standard_uncertainty);
    const k = formatNumber(level.coverage_factor, { digits: 3, keepZeros: true });
    return `K(${formatNumber(one.wavelength_nm)} nm, candidate at ${rangeWords(level.candidate_mW)} mW) = ${formatUncertain(factor, high - factor)}, u = ${u} %, k = ${k}, ν = ${formatDegreesOfFreedom(level.dof)}, [${formatInterval(low, high)}].`;
  });
}
