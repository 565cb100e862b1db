/** Whether the factor depends on the power. */

import { BEND_WORDS, OFFSET_WORDS, placeOf, spoken } from '../findings/findingWords.js';
import { formatInterval, formatNumber, NO_NUMBER } from '../findings/formatNumber.js';
import { powerSentences } from '../findings/powerSentences.js';
import { confidenceWords } from '../findings/words.js';
import type { PowerBend, PowerDependence, Result } from '../vocabulary.js';
import { type Html, html } from './html.js';
import { table } from './table.js';

/** Nothing where no wavelength has several series. */
export function powerTable(result: Result): Html | null {
  const entries = spoken([...result.power.by_wavelength, result.power.overall]);
  if (entries.length === 0) return null;
  return html`<section id="power"><h2>Whether the factor depends on the power</h2>
<p>A heat sink that warms makes a thermal meter read low at the top of its range; a zero that is off shows at the bottom. One series is one point here. The last column lets the other series correct the one left out: what the factor does to readings it has not seen.</p>
${table({
  caption: `Departure from one gain at the highest power, with ${confidenceWords(result.confidence)} intervals`,
  columns: [
    { head: 'Wavelength' },
    { head: 'Series', number: true },
    { head: 'Powers / mW', number: true },
    { head: 'Bend / %, by these series' },
    { head: 'Bend / %, by the scatter of the study' },
    { head: 'Offset' },
    { head: 'Error of a series left out / %', number: true },
  ],
  rows: entries.map(row),
})}
<ul class="reasons">${powerSentences(result).map((sentence) => html`<li>${sentence}</li>`)}</ul>
</section>`;
}

function row(one: PowerDependence): readonly string[] {
  return [
    placeOf(one),
    String(one.series.length),
    powersText(one),
    bendText(one.bend),
    bendText(one.bend_by_pooled_scatter),
    OFFSET_WORDS[one.offset.verdict],
    formatNumber(one.prediction.rms_error_percent, { digits: 2 }),
  ];
}

/** "213 to 1850", in mW. */
export function powersText({ range_mW: range }: PowerDependence): string {
  if (range === null) return NO_NUMBER;
  return range.map((power) => formatNumber(power, { digits: 3 })).join(' to ');
}

/** "−4.3 (−7.2 to −1.2): candidate reads low at the top". */
export function bendText(bend: PowerBend): string {
  if (bend.at_top_percent === null) return BEND_WORDS[bend.verdict];
  const size = formatNumber(bend.at_top_percent, { digits: 2 });
  return `${size} (${formatInterval(bend.low_percent, bend.high_percent)}): ${BEND_WORDS[bend.verdict]}`;
}
