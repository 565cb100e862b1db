import { TAKEN_AS_INDEPENDENT } from '../opinions/secondOpinion.js';
import type { OpinionResult, Result } from '../vocabulary.js';
import { KIND_WORDS } from './findingWords.js';
import { formatNumber } from './formatNumber.js';

/** What each value from elsewhere says of the two meters; what all take for granted stands once. */
export function opinionSentences(result: Result): readonly string[] {
  if (result.opinions.length === 0) return ['No second opinion was given.'];
  const independent = result.opinions.some((one) => one.why.includes(TAKEN_AS_INDEPENDENT));
  return [
    ...result.opinions.map(sentence),
    ...(independent ? [TAKEN_AS_INDEPENDENT] : []),
    ...scatter(result),
  ];
}

function sentence(one: OpinionResult): string {
  const date = one.date === null ? '' : `, ${one.date}`;
  const value = formatNumber(one.value_mW, { unit: 'mW' });
  return `${one.source} (${KIND_WORDS[one.kind]}${date}, ${value}): ${one.why.replace(TAKEN_AS_INDEPENDENT, '').trim()}`;
}

/** Said when there is a third meter at all. */
function scatter(result: Result): string[] {
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
