/** What the sources can emit against what their labels say, judged on the safe side. */

import { formatNumber, formatPower } from '../findings/formatNumber.js';
import { hazardZone, labelVerdict, labelWords } from '../findings/words.js';
import { HAZARD_CAUTION } from '../hazard/hazard.js';
import type { HazardResult, Result } from '../vocabulary.js';
import type { FigureShelf, FigureSlot } from './figureBlock.js';
import { type Html, html } from './html.js';
import { table } from './table.js';

/** Sources against the class limits: three zones in words, and the cautions beside them. */
export function hazardTable(result: Result, shelf: FigureShelf, figure: FigureSlot): Html {
  return html`<section id="hazard"><h2>Hazard of the sources, against their labels</h2>
<div class="caution-inline" role="note"><p><strong>${HAZARD_CAUTION}</strong> The standard is IEC 60825-1. Never look into the beam or at its reflection; end it on a matt beam stop.</p></div>
<p>Judged by the most that was seen: both meters, peaks, cold starts and left-out runs included, candidate readings corrected, uncertainty added; where a certificate or a third meter leaves more open, that counts. Three outcomes: below a limit with uncertainty to spare, above it, or the higher class cannot be excluded.</p>
${shelf.place(figure, 'Beside each source its class by this data and its label. Bar: from the highest power to its upper bound. Cross strokes: the most that the label allows.')}
${table({
  caption: 'Highest power and class by the limits of IEC 60825-1, whole beam, continuous wave',
  columns: [
    { head: 'Source' },
    { head: 'Wavelength', number: true },
    { head: 'Highest seen', number: true },
    { head: 'With its uncertainty up to', number: true },
    { head: 'Outcome' },
    { head: 'Label says' },
    { head: 'Label against data' },
  ],
  rows: result.hazard.map((one) => [
    one.source,
    `${formatNumber(one.wavelength_nm)} nm`,
    formatPower(one.highest_mW),
    formatPower(one.upper_mW, { up: true }),
    hazardZone(one),
    labelWords(one),
    html`<strong class="${one.label_understates === true ? 'alarm' : 'plain'}">${labelVerdict(one)}</strong>`,
  ]),
  empty: 'No source was judged.',
})}
<ul class="reasons">${result.hazard.map((one) => html`<li><strong>${one.source}:</strong> ${reason(one)}</li>`)}</ul>
</section>`;
}

/** The caution stands above the table once. */
function reason(one: HazardResult): string {
  return one.why.replace(HAZARD_CAUTION, '').trim();
}
