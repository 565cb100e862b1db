/** Whether the factors have moved since an earlier study. */

import { changeSentences } from '../findings/changeSentences.js';
import { CHANGE_WORDS } from '../findings/findingWords.js';
import { formatInterval, formatNumber } from '../findings/formatNumber.js';
import { confidenceWords } from '../findings/words.js';
import type { Result } from '../vocabulary.js';
import { type Html, html } from './html.js';
import { table } from './table.js';

/** Nothing without earlier factors. */
export function changeTable(result: Result): Html | null {
  const found = result.then_and_now;
  if (found === null) return null;
  return html`<section id="then-and-now"><h2>Then and now</h2>
${table({
  caption: `Factors now against those of the earlier study, with ${confidenceWords(result.confidence)} intervals`,
  columns: [
    { head: 'Wavelength' },
    { head: 'K then', number: true },
    { head: 'K now', number: true },
    { head: 'Change / %', number: true },
    { head: 'Interval / %', number: true },
    { head: 'Verdict' },
  ],
  rows: found.wavelengths.map((one) => [
    `${formatNumber(one.wavelength_nm)} nm`,
    formatNumber(one.earlier_factor, { keepZeros: true }),
    formatNumber(one.factor, { keepZeros: true }),
    formatNumber(one.change_percent, { digits: 2 }),
    formatInterval(one.low_percent, one.high_percent),
    html`<strong>${CHANGE_WORDS[one.verdict]}</strong>`,
  ]),
  empty: 'Neither study has a factor.',
})}
<ul class="reasons">${changeSentences(result).map((sentence) => html`<li>${sentence}</li>`)}</ul>
<p class="small">Data fingerprint of the earlier study: <code>${found.earlier_data_sha256}</code></p>
</section>`;
}
