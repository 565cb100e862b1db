import type { Result, ThenAndNow } from '../vocabulary.js';
import { CHANGE_WORDS } from './findingWords.js';
import { formatNumber } from './formatNumber.js';

/** Whether the factors have moved since an earlier study. */
export function changeSentences(result: Pick<Result, 'then_and_now'>): readonly string[] {
  const found = result.then_and_now;
  return found === null ? ['No earlier factors were given.'] : thenAndNowSentences(found);
}

/** The same of any two sets of factors. */
export function thenAndNowSentences(found: ThenAndNow): readonly string[] {
  return [
    `Compared with "${found.earlier_title}". ${found.why}`,
    ...found.wavelengths.map(
      (one) => `${formatNumber(one.wavelength_nm)} nm, ${CHANGE_WORDS[one.verdict]}: ${one.why}`,
    ),
  ];
}
