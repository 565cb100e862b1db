import { formatNumber } from '../findings/formatNumber.js';
import { type ComparisonWishes, completeWishes } from '../plan/comparisonWishes.js';
import { plannedOutlook } from '../plan/plannedOutlook.js';
import { BLOCK_LAPS, wholeBlocks } from '../plan/runOrder.js';
import { LEAST_LAPS } from '../vocabulary.js';
import { axis, type Figure, figureOf, legendHeight, plainText, wavelengthStyle } from './figure.js';
import { type MarksTrace, marks } from './marks.js';
import { levelLine } from './shapes.js';

/** Wishes with the name under which they are drawn. */
export interface NamedPlan {
  readonly name: string;
  readonly plan: ComparisonWishes;
}

/** What a number of laps in each series promises. */
export interface PlannedWidth {
  readonly laps: number;
  /** Relative U of a corrected reading that is met with the wanted probability. */
  readonly promised: number;
}

/**
 * How well will a corrected reading be known after so many laps in each series? One entry a whole
 * block of the order, from the fewest laps that a series should have.
 *
 * @param options.most_laps where to stop (default 24)
 * @throws argument-wrong as `planComparison`
 */
export function plannedWidths(
  plan: ComparisonWishes,
  options: { readonly series: number; readonly most_laps?: number },
): readonly PlannedWidth[] {
  const wishes = completeWishes(plan);
  const block = BLOCK_LAPS[wishes.order];
  const least = wholeBlocks(wishes.order, LEAST_LAPS);
  const blocks = Math.max(0, Math.floor(((options.most_laps ?? 24) - least) / block) + 1);
  return Array.from({ length: blocks }, (_, i) => least + i * block).flatMap((laps) => {
    const outlook = plannedOutlook(wishes, { series: options.series, laps });
    return outlook === null ? [] : [{ laps, promised: outlook.reading_U_promised }];
  });
}

/** Promised U of a corrected reading against the laps of each series, one line a plan, and the wish. */
export function planFigure(options: {
  readonly plans: readonly NamedPlan[];
  readonly series: number;
  /** Wanted relative expanded uncertainty of a corrected reading. */
  readonly wanted: number;
  readonly most_laps?: number;
}): Figure {
  const { plans, wanted } = options;
  const lines = plans.map((one) => ({ ...one, widths: plannedWidths(one.plan, options) }));
  const shown = lines.filter((line) => line.widths.length > 0);
  const data = shown.map(widthsTrace);
  const all = shown.flatMap((line) => line.widths.map((one) => one.promised));
  const lowest = 100 * Math.min(wanted, ...all);
  const highest = 100 * Math.max(wanted, ...all);
  return figureOf({
    title: 'What so many laps promise for a corrected reading',
    alt: `Expanded uncertainty of a corrected reading that is kept with the wanted probability, in percent, against the laps of each of ${options.series} series. Wanted is ± ${percent(wanted)}. ${lines.map(altOf).join(' ')}`,
    height: 320 + legendHeight(data.length + 1),
    data,
    empty: 'So few laps are no series to plan for.',
    layout: {
      xaxis: axis('laps of each series / number', { rangemode: 'tozero', zeroline: false }),
      yaxis: axis('U of a corrected reading / %', {
        type: 'log',
        range: [Math.log10(lowest) - 0.12, Math.log10(highest) + 0.12],
        ...roundTicks(lowest, highest),
      }),
      shapes: [levelLine(100 * wanted, { dash: 'dot', name: `wanted: ± ${percent(wanted)}` })],
    },
  });
}

function widthsTrace(
  { name, widths }: { name: string; widths: readonly PlannedWidth[] },
  index: number,
): MarksTrace {
  const { symbol, colour } = wavelengthStyle(index);
  const points = widths.map(({ laps, promised }) => ({
    x: laps,
    y: 100 * promised,
    text: `${laps} laps: ± ${percent(promised)}`,
  }));
  return marks(
    plainText(name),
    points,
    { symbol, colour, size: 8 },
    {
      mode: 'lines+markers',
      line: { color: colour, width: 1.5, dash: index % 2 === 0 ? 'solid' : 'dash' },
    },
  );
}

function altOf({ name, widths }: { name: string; widths: readonly PlannedWidth[] }): string {
  const first = widths[0];
  const last = widths.at(-1);
  if (first === undefined || last === undefined) return `${name}: too few laps.`;
  return `${name}: ± ${percent(first.promised)} at ${first.laps} laps, ± ${percent(last.promised)} at ${last.laps} laps.`;
}

/** 1, 1.5, 2, 3, 5, 7, 10 …: the numbers that people expect on a logarithmic axis. */
function roundTicks(low: number, high: number) {
  const from = Math.floor(Math.log10(low)) - 1;
  const to = Math.ceil(Math.log10(high)) + 1;
  const ticks = Array.from({ length: to - from + 1 }, (_, i) =>
    [1, 1.5, 2, 3, 5, 7].map((digit) => Number(`${digit}e${from + i}`)),
  ).flat();
  return { tickmode: 'array' as const, tickvals: ticks, ticktext: ticks.map(String) };
}

function percent(fraction: number): string {
  return formatNumber(fraction, { as: 'percent', digits: 2 });
}
