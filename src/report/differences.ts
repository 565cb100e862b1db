/** How far apart the meters are: differences, limits of agreement, drift and order. */

import { formatInterval, formatNumber, NO_NUMBER } from '../findings/formatNumber.js';
import { formatUncertain } from '../findings/formatUncertain.js';
import { confidenceWords } from '../findings/words.js';
import type {
  AgreementResult,
  DifferenceSummary,
  Interval,
  LimitsOfAgreement,
  Result,
  SeriesResult,
} from '../vocabulary.js';
import type { FigureShelf, FigureSlot } from './figureBlock.js';
import { type Html, html } from './html.js';
import { levelTable } from './levelTable.js';
import { table } from './table.js';

/** Differences and limits of agreement, by series and over the study. */
export function differences(
  result: Result,
  shelf: FigureShelf,
  power: FigureSlot,
  figure: FigureSlot,
): Html {
  const confidence = confidenceWords(result.confidence);
  const { agreement } = result;
  return html`<section id="differences"><h2>How far apart the meters are, uncorrected</h2>
<p>Difference = candidate − reference, in percent of the reference. The limits of agreement say where single differences lie; the interval behind each limit says how well so few laps fix it.</p>
${table({
  caption: `Differences; ± is half the ${confidence} interval of the mean`,
  columns: [
    { head: 'Series' },
    { head: 'Wavelength', number: true },
    { head: 'Mean difference / mW', number: true },
    { head: 'Mean difference / %', number: true },
    { head: 'Standard deviation / %', number: true },
    { head: 'Limits of agreement / %', number: true },
    { head: 'Interval of each limit / %', number: true, breaks: true },
  ],
  rows: [
    ...result.series.map((one) => [
      one.id,
      `${formatNumber(one.wavelength_nm)} nm`,
      ...differenceCells(one),
    ]),
    ['Whole study', 'all', ...differenceCells(agreement)],
  ],
})}
${missingReasons(result)}
<p>${agreement.why} Counted: ${agreement.series} series, ${agreement.laps} laps.</p>
${shelf.place(power, 'Each level with what its K says; the factor runs from one level to the next.')}
${shelf.place(figure, captionOf(agreement))}
${levelTable(result)}
</section>`;
}

function captionOf({ against_level: found }: AgreementResult): string {
  const marks = 'One mark a kept lap, shaped by wavelength.';
  return found.description === 'changes-with-level'
    ? `${marks} Solid line: bias; dashed lines: limits of agreement, both at the level of the reading; bars: their intervals.`
    : `${marks} Solid line: bias over the study; dashed lines: limits of agreement; bars at the edge: their intervals.`;
}

function differenceCells(
  one: Pick<AgreementResult, 'difference_mW' | 'difference_percent' | 'limits_percent'>,
) {
  return [
    meanText(one.difference_mW),
    meanText(one.difference_percent),
    formatNumber(one.difference_percent.sd, { digits: 2, keepZeros: true }),
    limitsText(one.limits_percent),
    limitIntervals(one.limits_percent),
  ];
}

/** Mean ± half of its interval. */
export function meanText(summary: DifferenceSummary): string {
  const { mean, low, high } = summary;
  return low === null || high === null
    ? formatNumber(mean, { digits: 3 })
    : formatUncertain(mean, (high - low) / 2);
}

export function limitsText(limits: LimitsOfAgreement): string {
  return formatInterval(limits.low, limits.high);
}

function limitIntervals(limits: LimitsOfAgreement): Html | string {
  const text = ([low, high]: readonly [number | null, number | null]) => formatInterval(low, high);
  const parts = [text(limits.low_interval), text(limits.high_interval)];
  return parts.every((part) => part === NO_NUMBER)
    ? NO_NUMBER
    : html`<span class="together">${parts[0]}</span>; <span class="together">${parts[1]}</span>`;
}

/** Why a series shows dashes. */
function missingReasons(result: Result): Html | null {
  const missing = result.series.filter(
    (one) => one.difference_percent.mean === null || one.limits_percent.low === null,
  );
  if (missing.length === 0) return null;
  return html`<p class="small">— means that there is no number. ${missing.map((one) => html`<span>${one.id}: ${one.why} </span>`)}</p>`;
}

/** Drift of the source and what the order of the runs would do to plain lap differences. */
export function drift(result: Result): Html {
  const degree = (value: number | null) =>
    value === null
      ? NO_NUMBER
      : (['none', 'straight', 'curved'][value] ?? `curved, degree ${value}`);
  const wander = (value: number | null) =>
    value === 0 ? 'none seen' : formatNumber(value, { digits: 2 });
  return html`<section id="drift"><h2>Drift, and what the order of runs does</h2>
<p>Taking turns does not cancel drift: when the same meter always goes first, each lap keeps one step of it. The last column is the bias that the plain mean of lap differences would carry; the factors are free of it as far as the drift is as smooth as the model takes it.</p>
${table({
  caption: `Drift of the readings within a series; interval for ${confidenceWords(result.confidence)}`,
  columns: [
    { head: 'Series' },
    { head: 'Drift that the data show' },
    { head: 'Drift that the model allows' },
    { head: 'Change per run / %', number: true },
    { head: 'Interval / %', number: true },
    { head: 'Wander per run / %', number: true },
    { head: 'Order bias of plain laps / %', number: true },
  ],
  rows: result.series.map((one) => [
    one.id,
    degree(one.drift.evident_degree),
    degree(one.drift.degree),
    formatNumber(one.drift.percent_per_run, { digits: 2 }),
    formatInterval(one.drift.percent_per_run_interval[0], one.drift.percent_per_run_interval[1]),
    wander(one.drift.wander_percent_per_run),
    formatNumber(one.drift.order_bias_percent, { digits: 2 }),
  ]),
  empty: 'There is no series with both meters.',
})}
${driftReasons(result.series)}
</section>`;
}

function driftReasons(series: readonly SeriesResult[]): Html | null {
  const missing = series.filter(
    (one) => one.drift.percent_per_run === null || one.drift.order_bias_percent === null,
  );
  if (missing.length === 0) return null;
  return html`<p class="small">— means that too few kept runs are left to tell, in ${missing.map((one) => one.id).join(', ')}. ${missing.map((one) => html`<span>${one.id}: ${one.why} </span>`)}</p>`;
}

/** "45 to 47 mW"; a dash without a range. */
export function rangeText(range: Interval | null): string {
  return range === null ? NO_NUMBER : `${formatNumber(range[0])} to ${formatNumber(range[1])} mW`;
}
