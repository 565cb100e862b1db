/** The factors of several studies on control charts. */

import { CHANGE_WORDS, controlWords } from '../findings/findingWords.js';
import {
  formatInterval,
  formatNumber,
  formatRelative,
  NO_NUMBER,
} from '../findings/formatNumber.js';
import { placesOnChart, reCheckSentences } from '../findings/reCheckSentences.js';
import { confidenceWords } from '../findings/words.js';
import type { ReChecks, Result } from '../vocabulary.js';
import type { FigureShelf, FigureSlot } from './figureBlock.js';
import { type Html, html } from './html.js';
import { table } from './table.js';

/** Nothing below two earlier studies. */
export function reCheckTable(result: Result, shelf: FigureShelf, figure: FigureSlot): Html | null {
  const charts = result.re_checks;
  if (charts === null) return null;
  return html`<section id="re-checks"><h2>Re-checks</h2>
<p>The factors of all studies in the order of time. One comparison asks whether two of them differ; the chart asks whether anything but chance is at work in all of them, and sees, once there are enough, a creep that is too slow for any two neighbours. A point out of control asks for a cause, and is no cause by itself.</p>
${table({
  caption: 'Control charts of the factor, one a wavelength',
  columns: [
    { head: 'Wavelength' },
    { head: 'Values', number: true },
    { head: 'Centre', number: true },
    { head: 'Limits from the scatter', number: true },
    { head: 'Limits from the uncertainty', number: true },
    { head: 'Scatter over uncertainty', number: true },
    { head: 'First to last / %', number: true },
    { head: 'Verdict' },
  ],
  rows: charts.map((one) => [
    `${formatNumber(one.wavelength_nm)} nm`,
    String(one.values.filter((value) => value.factor !== null).length),
    formatNumber(one.centre, { keepZeros: true }),
    limitsText(one.limits),
    limitsText(one.limits_from_uncertainty),
    formatNumber(one.scatter_ratio, { digits: 2 }),
    firstToLast(one),
    html`<strong>${controlWords(one)}</strong>`,
  ]),
  empty: 'None of the studies has a factor.',
})}
${shelf.place(
  figure,
  'One point a study, oldest first, with its interval without what all have in common. Solid line: centre; dashed lines: limits from the scatter; shaded: limits from the uncertainties. A hollow square breaks a rule.',
)}
${table({
  caption: `The values, with ${confidenceWords(result.confidence)} intervals without what all have in common`,
  columns: [
    { head: 'Re-check' },
    { head: 'Study' },
    { head: 'K', number: true },
    { head: 'Interval', number: true },
    { head: 'u / %', number: true },
    { head: 'Remarks' },
  ],
  rows: charts.flatMap((chart) => {
    const places = placesOnChart(chart);
    return chart.values.map((one, i) => [
      `${formatNumber(chart.wavelength_nm)} nm, ${places[i] ?? 'none'}`,
      one.title,
      formatNumber(one.factor, { keepZeros: true }),
      formatInterval(one.low, one.high),
      formatRelative(one.relative_standard_uncertainty),
      one.why,
    ]);
  }),
  empty: 'There are no values.',
})}
<ul class="reasons">${reCheckSentences(charts).map((sentence) => html`<li>${sentence}</li>`)}</ul>
</section>`;
}

function limitsText(limits: ReChecks['limits']): string {
  return limits === null ? NO_NUMBER : formatInterval(...limits);
}

function firstToLast({ since_first: change }: ReChecks): string {
  if (change === null || change.change_percent === null) return NO_NUMBER;
  return `${formatNumber(change.change_percent, { digits: 2 })}, ${CHANGE_WORDS[change.verdict]}`;
}
