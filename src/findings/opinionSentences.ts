import { TAKEN_AS_INDEPENDENT } from '../opinions/secondOpinion.js';
import type { OpinionResult, Result } from '../vocabulary.js';
import { KIND_WORDS, SUPPORT_WORDS } from './findingWords.js';
import { formatNumber } from './formatNumber.js';

/** What each value from elsewhere says of the two meters. */
export function opinionSentences(result: Result): readonly string[] {
  if (result.opinions.length === 0) return ['No second opinion was given.'];
  return [
    ...result.opinions.map(
      (one) =>
        `${one.source} (${KIND_WORDS[one.kind]}${one.date === null ? '' : `, ${one.date}`}, ${formatNumber(one.value_mW, { unit: 'mW' })}): ${meaning(one)}`,
    ),
    ...independence(result),
    ...threeInstruments(result),
  ];
}

/** The verdict, and both meters in their own sentence; the corrected candidate leans on the reference. */
function meaning({ comparisons, supports, why }: OpinionResult): string {
  const each = comparisons
    .filter((one) => one.meter !== 'corrected-candidate')
    .map((one) => `${one.meter === 'reference' ? 'Reference' : 'Candidate'}: ${one.why}`);
  return each.length === 0 ? why : `${SUPPORT_WORDS[supports]}. ${each.join(' ')}`;
}

/** What every comparison takes for granted, once. */
export function independence({ opinions }: Result): readonly string[] {
  return opinions.some((one) => one.why.includes(TAKEN_AS_INDEPENDENT))
    ? [TAKEN_AS_INDEPENDENT]
    : [];
}

/** How the scatter of three instruments is told apart; said when there is a third meter at all. */
export function threeInstruments(result: Result): string[] {
  if (!result.opinions.some((one) => one.kind === 'third-meter')) return [];
  const { instruments, why } = result.three_instruments;
  const each = instruments.map(
    ({ meter, relative_sd }) =>
      `${meter === 'third-meter' ? 'third meter' : meter} ${formatNumber(relative_sd, { as: 'percent', digits: 2 })}`,
  );
  return [
    each.length === 0
      ? why
      : `Scatter, one meter apart from the others: ${each.join(', ')}. ${why}`,
  ];
}
