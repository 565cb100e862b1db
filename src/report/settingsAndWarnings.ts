/** What the wavelength setting is worth, infrared told apart, and every warning in full. */

import { formatInterval, formatNumber, formatPower } from '../findings/formatNumber.js';
import { formatUncertain } from '../findings/formatUncertain.js';
import { confidenceWords } from '../findings/words.js';
import type { Result } from '../vocabulary.js';
import { type Html, html } from './html.js';
import { table } from './table.js';

/** Readings of one meter under two wavelength settings. */
export function settings(result: Result): Html {
  return html`<section id="settings"><h2>Wavelength settings</h2>
${table({
  caption: `What one meter shows under two settings on the same source (${confidenceWords(result.confidence)} intervals)`,
  columns: [
    { head: 'Series' },
    { head: 'Source' },
    { head: 'Meter' },
    { head: 'From setting', number: true },
    { head: 'To setting', number: true },
    { head: 'Reading changes by a factor of', number: true },
    { head: 'Interval', number: true },
    { head: 'Remarks' },
  ],
  rows: result.settings.map((one) => [
    one.series,
    `${one.source}, ${formatNumber(one.wavelength_nm)} nm`,
    one.meter,
    `${formatNumber(one.from_nm)} nm`,
    `${formatNumber(one.to_nm)} nm`,
    one.low === null || one.high === null
      ? formatNumber(one.ratio)
      : formatUncertain(one.ratio, (one.high - one.low) / 2),
    formatInterval(one.low, one.high),
    one.why,
  ]),
  empty: 'No series measured what a wavelength setting is worth.',
})}
</section>`;
}

/** Infrared beside the wanted line, where series with and without a filter were taken. */
export function infrared(result: Result): Html {
  if (result.infrared.length === 0) return html``;
  return html`<section id="infrared"><h2>Infrared beside the wanted light</h2>
<p>A frequency-doubled source can emit infrared that a broadband sensor counts as visible light, that nobody sees and against which eyewear for the visible line does not protect.</p>
${table({
  caption: 'Light told apart by a filter of known transmission',
  columns: [
    { head: 'Source' },
    { head: 'Filter' },
    { head: 'Wanted line', number: true },
    { head: 'Infrared', number: true },
    { head: 'Infrared part of the reading', number: true },
    { head: 'Remarks' },
  ],
  rows: result.infrared.map((one) => [
    `${one.source}, ${formatNumber(one.wavelength_nm)} nm`,
    one.filter,
    formatPower(one.wanted_mW),
    formatPower(one.infrared_mW),
    formatUncertain(one.infrared_fraction, one.infrared_fraction_standard_uncertainty, {
      as: 'percent',
    }),
    one.why,
  ]),
})}
<p class="small">± is one standard uncertainty here.</p>
</section>`;
}

/** Every warning, in the order they arose. */
export function warnings(result: Result): Html {
  return html`<section id="warnings"><h2>Warnings in full</h2>
${
  result.warnings.length === 0
    ? html`<p>There are none.</p>`
    : html`<ul>${result.warnings.map(
        (one) =>
          html`<li>${one.series === undefined ? null : html`<strong>${one.series}:</strong> `}${one.message} <code>${one.code}</code></li>`,
      )}</ul>`
}
</section>`;
}
