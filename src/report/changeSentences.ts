import type { Result } from '../vocabulary.js';
import { CHANGE_WORDS } from './findingWords.js';
import { formatNumber } from './formatNumber.js';

/** Whether the factors have moved since an earlier study. */
export function changeSentences(result: Result): readonly string[] {
  const found = result.then_and_now;
  if (found === null) return ['No earlier factors were given.'];
  return [
    `Compared with "${found.earlier_title}". ${found.why}`,
    ...found.wavelengths.map(
      (one) => `${formatNumber(one.wavelength_nm)} nm, ${CHANGE_WORDS[one.verdict]}: ${one.why}`,
    ),
  ];
}
