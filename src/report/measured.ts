/** What was measured: meters, sources, series and how the runs were taken. */

import { formatNumber } from '../findings/formatNumber.js';
import { labelWords } from '../findings/words.js';
import type { Meter, Series, Study } from '../vocabulary.js';
import { type Html, html } from './html.js';
import { table } from './table.js';

const notStated = 'not stated';

/** Meters, sources, protocol and values from elsewhere. */
export function measured(study: Study): Html {
  const meters = [study.reference, study.candidate];
  return html`<section id="measured"><h2>What was measured</h2>
${table({
  caption: 'The meters',
  columns: [
    { head: 'Meter' },
    { head: 'Role' },
    { head: 'Display step', number: true },
    { head: 'Rated to', number: true },
    { head: 'Stated expanded uncertainty' },
    { head: 'Wavelength setting' },
  ],
  rows: meters.map(meterRow),
})}
${table({
  caption: 'The sources, as labelled',
  columns: [
    { head: 'Source' },
    { head: 'Wavelength', number: true },
    { head: 'Label' },
    { head: 'Series' },
  ],
  rows: study.sources.map((source) => [
    source.name,
    `${formatNumber(source.wavelength_nm)} nm`,
    labelWords(source),
    study.series
      .filter((series) => series.source === source.name)
      .map(seriesWords)
      .join('; ') || 'none',
  ]),
})}
<p>${protocolWords(study)}</p>
${study.opinions.length === 0 ? null : opinions(study)}
</section>`;
}

function meterRow(meter: Meter): readonly string[] {
  const U = meter.expanded_uncertainty_percent;
  const setting = meter.wavelength_setting;
  return [
    meter.name,
    meter.role,
    meter.resolution_mW === null ? notStated : formatNumber(meter.resolution_mW, { unit: 'mW' }),
    meter.rated_max_mW === null ? notStated : formatNumber(meter.rated_max_mW, { unit: 'mW' }),
    U === null
      ? notStated
      : `${formatNumber(U)} % of reading (k = ${formatNumber(meter.coverage_factor)})`,
    setting === null ? notStated : setting ? 'has one' : 'has none',
  ];
}

function seriesWords(series: Series): string {
  const kind = series.kind === 'setting' ? ', about the wavelength setting' : '';
  const filter = series.filter === null ? '' : `, through filter ${series.filter}`;
  return `${series.id} (${series.runs.length} runs${kind}${filter})`;
}

function protocolWords(study: Study): string {
  const { protocol } = study;
  const order =
    protocol.order === null ? 'No run order was stated' : `Stated run order: ${protocol.order}`;
  const read =
    protocol.read_at_s === null
      ? 'when readings were taken after switch-on is not stated'
      : `readings taken ${formatNumber(protocol.read_at_s)} s after switch-on`;
  const discard =
    protocol.discard_first_laps === 0
      ? 'no laps declared as warm-up beforehand'
      : `the first ${protocol.discard_first_laps} laps of every series declared as warm-up beforehand`;
  const cold = protocol.exclude_cold_starts
    ? 'a cold first lap that the rest contradicts is left out'
    : 'cold first laps are kept';
  const outliers = protocol.exclude_outliers
    ? 'statistical outliers are left out'
    : 'statistical outliers are flagged and kept';
  return `${order}; ${read}; ${discard}; ${cold}; ${outliers}.`;
}

function opinions(study: Study): Html {
  const kinds = { certificate: 'certificate', maker: 'maker', 'third-meter': 'third meter' };
  return table({
    caption: 'Values from elsewhere (they take no part in the factors)',
    columns: [
      { head: 'Source' },
      { head: 'From' },
      { head: 'Value', number: true },
      { head: 'Stated uncertainty' },
      { head: 'Date' },
      { head: 'Note' },
    ],
    rows: study.opinions.map((one) => [
      one.source,
      kinds[one.kind],
      formatNumber(one.value_mW, { unit: 'mW' }),
      one.expanded_uncertainty_mW === null
        ? notStated
        : `± ${formatNumber(one.expanded_uncertainty_mW)} mW${one.coverage_factor === null ? '' : ` (k = ${formatNumber(one.coverage_factor)})`}`,
      one.date ?? notStated,
      one.note ?? '',
    ]),
  });
}
