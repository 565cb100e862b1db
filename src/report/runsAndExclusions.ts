/** The runs in the order they happened, and what was left out and why. */

import { EXCLUSION_WORDS } from '../findings/findingWords.js';
import { formatNumber } from '../findings/formatNumber.js';
import type { Exclusion, Result, Series, Study } from '../vocabulary.js';
import type { FigureShelf, FigureSlot } from './figureBlock.js';
import { type Html, html } from './html.js';
import { table } from './table.js';

/** More single readings than this stay in runs.csv. */
const MOST_ROWS = 1000;

/** Runs in time order: the figure, and every reading in a table that opens. */
export function runs(
  study: Study,
  result: Result,
  shelf: FigureShelf,
  laps: FigureSlot,
  figure: FigureSlot,
): Html {
  const count = study.series.reduce((sum, series) => sum + series.runs.length, 0);
  return html`<section id="runs"><h2>The runs in the order they happened</h2>
${shelf.place(laps, 'As read: the drift between the two runs of a lap is still in a mark, and not in the factor.')}
${shelf.place(
  figure,
  'Readings in percent above or below the mean of the kept runs of both meters. Circles with a solid line: reference. Diamonds with a dotted line: candidate. Hollow marks: left out.',
)}
${
  count > MOST_ROWS
    ? html`<p>The ${count} single readings stand in runs.csv.</p>`
    : html`<details><summary>All ${count} readings as a table</summary>${study.series.map((series) => runTable(series, result))}</details>`
}
</section>`;
}

function runTable(series: Series, result: Result): Html {
  const excluded = result.series.find((one) => one.id === series.id)?.excluded ?? [];
  return table({
    caption: `Series ${series.id}: ${series.source}, ${formatNumber(series.wavelength_nm)} nm`,
    columns: [
      { head: 'Run' },
      { head: 'Meter' },
      { head: 'Time / s', number: true },
      { head: 'Reading / mW', number: true },
      { head: 'Peak / mW', number: true },
      { head: 'Remarks' },
    ],
    rows: series.runs.map((run) => {
      const out = excluded.find((one) => one.run === run.run)?.reason ?? run.exclude;
      const remarks = [
        out === null ? null : `left out: ${out}`,
        run.setting_nm === null ? null : `set to ${formatNumber(run.setting_nm)} nm`,
        run.note,
      ].filter((part) => part !== null);
      return [
        String(run.run),
        run.meter,
        series.timed ? formatNumber(run.time_s, { digits: 6 }) : 'not recorded',
        formatNumber(run.reading_mW, { digits: 6 }),
        run.peak_mW === null ? 'not recorded' : formatNumber(run.peak_mW, { digits: 6 }),
        remarks.join('; '),
      ];
    }),
  });
}

/** What was left out, why, and what difference it makes; what was flagged and kept. */
export function exclusions(result: Result, shelf: FigureShelf, figure: FigureSlot): Html {
  const flags = result.series.flatMap((series) =>
    series.flagged.map(
      (flag) => html`<li>${series.id}, run ${flag.run} (${flag.meter}): ${flag.message}</li>`,
    ),
  );
  return html`<section id="left-out"><h2>What was left out, and why</h2>
<p>Runs that are left out here still count where the hazard of a source is judged.</p>
${table({
  caption: 'Runs left out of the factors',
  columns: [{ head: 'Series' }, { head: 'Runs' }, { head: 'Kind' }, { head: 'Reason' }],
  rows: result.series.flatMap((series) =>
    grouped(series.excluded).map((group) => [
      series.id,
      group.map((one) => `${one.run} (${one.meter})`).join(', '),
      EXCLUSION_WORDS[group[0].kind],
      group[0].reason,
    ]),
  ),
  empty: 'No run was left out.',
})}
${shelf.place(figure, 'Each kind of reason by itself.')}
${table({
  caption: 'What leaving them out does to the factor of the series',
  columns: [
    { head: 'Series' },
    { head: 'Kind' },
    { head: 'Runs' },
    { head: 'Factor with them', number: true, breaks: true },
    { head: 'Factor without them', number: true, breaks: true },
  ],
  rows: result.series.flatMap((series) =>
    series.exclusion_effects.map((effect) => [
      series.id,
      EXCLUSION_WORDS[effect.kind],
      effect.runs.join(', '),
      effect.factor_with === null
        ? '— cannot be computed'
        : formatNumber(effect.factor_with, { digits: 5 }),
      effect.factor_without === null
        ? '— cannot be computed'
        : formatNumber(effect.factor_without, { digits: 5 }),
    ]),
  ),
  empty: 'There is no effect of leaving runs out to show.',
})}
${flags.length === 0 ? html`<p>No run was flagged as a statistical outlier.</p>` : html`<h3>Flagged by statistics</h3><ul>${flags}</ul>`}
</section>`;
}

/** Runs of one kind and one reason together. */
function grouped(excluded: readonly Exclusion[]): readonly (readonly Exclusion[])[] {
  const groups = new Map<string, Exclusion[]>();
  for (const one of excluded) {
    const key = JSON.stringify([one.kind, one.reason]);
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  return [...groups.values()];
}
