import type { ThenAndNow } from '../vocabulary.js';
import { CHANGE_WORDS } from './findingWords.js';
import { formatNumber } from './formatNumber.js';

/** Whether the factors have moved since an earlier study. */
export function thenAndNowSentences(found: ThenAndNow): readonly string[] {
  return [
    `Compared with "${found.earlier_title}". ${found.why}`,
    ...found.wavelengths.map(
      (one) => `${formatNumber(one.wavelength_nm)} nm, ${CHANGE_WORDS[one.verdict]}: ${one.why}`,
    ),
  ];
}
