/** Factors by series and by wavelength, the common factor, and before against after. */

import {
  formatDegreesOfFreedom,
  formatInterval,
  formatNumber,
  formatProbability,
  formatRelative,
} from '../findings/formatNumber.js';
import { formatUncertain } from '../findings/formatUncertain.js';
import { resultSentence } from '../findings/resultSentence.js';
import { confidenceWords, DIRECTION, VERDICT_WORDS } from '../findings/words.js';
import type { Result, SeriesFactor } from '../vocabulary.js';
import { limitsText, meanText, rangeText } from './differences.js';
import type { FigureShelf, FigureSlot } from './figureBlock.js';
import { type Html, html } from './html.js';
import { table } from './table.js';

/** Factors with their intervals, first relative to this reference, then with the whole budget. */
export function factorTables(result: Result, shelf: FigureShelf, figure: FigureSlot): Html {
  const confidence = confidenceWords(result.confidence);
  const [quote] = result.wavelengths.flatMap((one) => resultSentence(one, result.confidence) ?? []);
  return html`<section id="factors"><h2>Factors</h2>
<p>${DIRECTION} The interval of a series holds repeatability, drift and order only: it is relative to this reference. The entries by wavelength add everything else in the budget.</p>
${table({
  caption: `By series, relative to this reference (${confidence} intervals)`,
  columns: [
    { head: 'Series' },
    { head: 'Factor K', number: true },
    { head: 'Interval', number: true },
    { head: 'u / %', number: true },
    { head: 'ν', number: true },
    { head: 'K by bracketing', number: true },
    { head: 'Candidate indications', number: true },
    { head: 'Laps used' },
    { head: 'Verdict' },
  ],
  rows: result.series.map((one) => [
    one.id,
    factorText(one.factor),
    formatInterval(one.factor.low, one.factor.high),
    formatRelative(one.factor.relative_standard_uncertainty),
    formatDegreesOfFreedom(one.factor.dof),
    factorText(one.factor_bracketed),
    rangeText(one.candidate_range_mW),
    `${Math.min(one.used.reference, one.used.candidate)} of ${one.laps}`,
    html`<strong>${one.verdict}</strong>`,
  ]),
  empty: 'There is no series with both meters.',
})}
<ul class="reasons">${result.series.map((one) => html`<li><strong>${one.id}:</strong> ${one.why}</li>`)}</ul>
${table({
  caption: `By wavelength, with the whole budget (${confidence} intervals)`,
  columns: [
    { head: 'Wavelength' },
    { head: 'Factor K', number: true },
    { head: 'Interval', number: true },
    { head: 'u / %', number: true },
    { head: 'ν', number: true },
    { head: 'k', number: true },
    { head: 'U / %', number: true },
    { head: 'Between series / %', number: true },
    { head: 'Verdict' },
  ],
  rows: result.wavelengths.map((one) => [
    `${formatNumber(one.wavelength_nm)} nm`,
    factorText({ ...one, value: one.factor }),
    formatInterval(one.low, one.high),
    formatRelative(one.relative_standard_uncertainty),
    formatDegreesOfFreedom(one.dof),
    formatNumber(one.coverage_factor, { digits: 3, keepZeros: true }),
    formatRelative(one.relative_expanded_uncertainty),
    one.between_series_relative_sd === null
      ? '— not estimated'
      : formatRelative(one.between_series_relative_sd),
    html`<strong>${VERDICT_WORDS[one.verdict]}</strong>`,
  ]),
  empty: 'There is no wavelength with a comparison.',
})}
<ul class="reasons">${result.wavelengths.map((one) => html`<li><strong>${formatNumber(one.wavelength_nm)} nm:</strong> ${one.why}</li>`)}</ul>
${quote === undefined ? null : html`<p>A factor is quoted with all that belongs to it, as here: <q>${quote}</q></p>`}
${shelf.place(
  figure,
  'Diamonds: factor with the whole budget. Hollow circles: single series, relative to this reference, set a little beside their wavelength. Crosses: inconclusive; their bars may run out of the picture. Nothing was measured between the wavelengths.',
)}
${commonFactor(result)}
</section>`;
}

function factorText(factor: Pick<SeriesFactor, 'value' | 'low' | 'high'>): string {
  const { value, low, high } = factor;
  return low === null || high === null
    ? formatNumber(value)
    : formatUncertain(value, (high - low) / 2, { show: 'value' });
}

function commonFactor(result: Result): Html {
  const common = result.common_factor;
  const numbers =
    common.factor === null
      ? ''
      : ` Over all wavelengths: ${formatNumber(common.factor)}, ${formatInterval(common.low, common.high)}.`;
  const p = common.p === null ? '' : ` (test of equal factors: p ${pWords(common.p)})`;
  return html`<h3>One factor for all wavelengths?</h3><p><strong>${common.supported ? 'Supported' : 'Not supported'}</strong>${p}. ${common.why}${numbers}</p>`;
}

function pWords(p: number): string {
  const text = formatProbability(p);
  return text.startsWith('<') || text.startsWith('>') ? text : `= ${text}`;
}

/** Agreement before and after the correction. */
export function beforeAfter(result: Result, shelf: FigureShelf, figure: FigureSlot): Html {
  const { agreement } = result;
  return html`<section id="before-after"><h2>Before and after the correction</h2>
<p>The corrected laps are the ones that the factors come from, so their bias is near zero by construction. What a <em>new</em> reading may be off by is more than the interval of K says: the head is put up anew, and the reading has a scatter and a display step of its own. Correct new readings with <code>factors.json</code> to see their U; new runs on another day test it.</p>
${table({
  caption: `Candidate − reference over the study, in percent; ± is half the ${confidenceWords(result.confidence)} interval`,
  columns: [
    { head: 'Readings' },
    { head: 'Mean difference / %', number: true },
    { head: 'Limits of agreement / %', number: true },
  ],
  rows: [
    ['uncorrected', meanText(agreement.difference_percent), limitsText(agreement.limits_percent)],
    [
      'corrected',
      meanText(agreement.corrected_difference_percent),
      limitsText(agreement.corrected_limits_percent),
    ],
  ],
})}
${agreement.corrected_difference_percent.mean === null || agreement.difference_percent.mean === null ? html`<p class="small">— means that there is no number: ${agreement.why}</p>` : null}
${shelf.place(
  figure,
  'Above in each row: as read, the estimate with its interval; below: corrected, with the U of a reading on another day, its own scatter and display step aside. Where the data are inconclusive nothing is corrected.',
)}
</section>`;
}
