/** Values from elsewhere beside what the two meters show. */

import {
  COMPARED_WORDS,
  comparisonWords,
  KIND_WORDS,
  SUPPORT_WORDS,
} from '../findings/findingWords.js';
import { formatNumber } from '../findings/formatNumber.js';
import { formatUncertain } from '../findings/formatUncertain.js';
import { opinionSentences } from '../findings/opinionSentences.js';
import type { OpinionResult, Result } from '../vocabulary.js';
import { type Html, html } from './html.js';
import { table } from './table.js';

/** Nothing without an opinion. */
export function opinionTable(result: Result): Html | null {
  if (result.opinions.length === 0) return null;
  return html`<section id="opinions"><h2>A second opinion</h2>
<p>Two meters that differ cannot say which of them is right. ζ is the difference over its standard uncertainty: up to 2 agrees, from 3 on disagrees. E<sub>n</sub> is the same with expanded uncertainties and needs both stated. A maker’s as-new value only shows a meter to read too high.</p>
${table({
  caption:
    'Values from elsewhere against the power that each meter shows; ± is one standard uncertainty',
  columns: [
    { head: 'Source' },
    { head: 'Value from' },
    { head: 'Value / mW', number: true },
    { head: 'Meter' },
    { head: 'Shows / mW', number: true },
    { head: 'Difference / %', number: true },
    { head: 'ζ', number: true },
    { head: 'En', number: true },
    { head: 'Outcome' },
  ],
  rows: result.opinions.flatMap(rows),
  empty: 'No value could be compared.',
})}
<ul class="reasons">${opinionSentences(result).map((sentence) => html`<li>${sentence}</li>`)}</ul>
</section>`;
}

function rows(one: OpinionResult): readonly (readonly string[])[] {
  return one.comparisons.map((compared) => [
    one.source,
    `${KIND_WORDS[one.kind]}: ${SUPPORT_WORDS[one.supports]}`,
    valueText(one.value_mW, one.standard_uncertainty_mW),
    COMPARED_WORDS[compared.meter],
    valueText(compared.value_mW, compared.standard_uncertainty_mW),
    formatNumber(compared.difference_percent, { digits: 2 }),
    formatNumber(compared.zeta, { digits: 2 }),
    formatNumber(compared.en, { digits: 2 }),
    comparisonWords(compared),
  ]);
}

/** "88.90 ± 0.95"; the value alone where nobody stated an uncertainty. */
export function valueText(value: number | null, u: number | null): string {
  return u === null ? formatNumber(value) : formatUncertain(value, u);
}
