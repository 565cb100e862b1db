import type { Data, Layout } from 'plotly.js';
import { effectiveDof } from '../../budget/index.js';
import { BLOCK_LAPS, designUncertainty, type PlanOptions } from '../../plan/index.js';
import { formatNumber } from '../../report/formatNumber.js';
import { coverageFactor } from '../../statistics/distributions.js';
import {
  AXIS,
  baseLayout,
  CONFIG,
  emptyNote,
  type Figure,
  INK,
  legendHeight,
  NOTHING,
  plainText,
  wavelengthStyle,
} from './figure.js';

/** A plan with the name under which it is drawn. */
export interface NamedPlan {
  readonly name: string;
  readonly plan: PlanOptions;
}

/** What a number of laps makes of the factor. */
export interface PlannedWidth {
  readonly laps: number;
  /** Half of the interval of K as a fraction of K: k times the combined standard uncertainty. */
  readonly half_width: number;
}

/**
 * How wide will the interval of K be after so many laps? One entry a whole block of the order, from
 * the fewest laps that leave a degree of freedom.
 *
 * @param options.most_laps where to stop (default 24)
 * @throws argument-wrong as `designUncertainty`
 * @see JCGM 100:2008, G.4
 */
export function plannedWidths(
  plan: PlanOptions,
  options: { readonly most_laps?: number } = {},
): readonly PlannedWidth[] {
  const block = BLOCK_LAPS[plan.order];
  const blocks = Math.floor((options.most_laps ?? 24) / block);
  return Array.from({ length: blocks }, (_, i) => (i + 1) * block).flatMap((laps) => {
    const own = designUncertainty(plan, laps);
    if (own === null) return [];
    const parts = [own, ...(plan.others ?? [])];
    const u = Math.hypot(...parts.map((part) => part.standard_uncertainty));
    return [{ laps, half_width: coverageFactor(plan.confidence, effectiveDof(parts)) * u }];
  });
}

/** Half-width of the interval of K against the number of laps, one line a plan, and the wish. */
export function planFigure(options: {
  readonly plans: readonly NamedPlan[];
  /** Wanted relative expanded uncertainty of K. */
  readonly wanted: number;
  readonly most_laps?: number;
}): Figure {
  const { plans, wanted } = options;
  const lines = plans.map((one) => ({ ...one, widths: plannedWidths(one.plan, options) }));
  const shown = lines.filter((line) => line.widths.length > 0);
  const data: Data[] = shown.map((line, index) => {
    const style = wavelengthStyle(index);
    return {
      type: 'scatter',
      mode: 'lines+markers',
      name: plainText(line.name),
      x: line.widths.map((one) => one.laps),
      y: line.widths.map((one) => 100 * one.half_width),
      line: { color: style.colour, width: 1.5, dash: index % 2 === 0 ? 'solid' : 'dash' },
      marker: { symbol: style.symbol, color: style.colour, size: 8 },
      hoverinfo: 'text',
      hovertext: line.widths.map((one) => `${one.laps} laps: ± ${percent(one.half_width)}`),
    };
  });
  const all = shown.flatMap((line) => line.widths.map((one) => one.half_width));
  const lowest = Math.min(wanted, ...all);
  const highest = Math.max(wanted, ...all);
  const layout: Partial<Layout> = {
    ...baseLayout(320 + legendHeight(data.length + 1)),
    ...(data.length === 0 ? emptyNote('So few laps leave no degree of freedom.') : {}),
    xaxis: {
      ...AXIS,
      title: { text: 'laps of the series / number', standoff: 8 },
      rangemode: 'tozero',
      zeroline: false,
    },
    yaxis: {
      ...AXIS,
      type: 'log',
      title: { text: 'half-width of the interval of K / %', standoff: 8 },
      range: [Math.log10(100 * lowest) - 0.12, Math.log10(100 * highest) + 0.12],
      ...roundTicks(100 * lowest, 100 * highest),
    },
    shapes: [
      {
        type: 'line',
        layer: 'below',
        xref: 'paper',
        x0: 0,
        x1: 1,
        y0: 100 * wanted,
        y1: 100 * wanted,
        line: { color: INK, width: 1, dash: 'dot' },
        showlegend: true,
        name: `wanted: ± ${percent(wanted)}`,
      },
    ],
  };
  return {
    title: 'Half-width of the interval of K against laps',
    alt: `Half of the interval of K, in percent of K, against the number of laps. Wanted is ± ${percent(wanted)}. ${lines.map(altOf).join(' ')}`,
    data: data.length === 0 ? [NOTHING] : data,
    layout,
    config: CONFIG,
  };
}

function altOf({ name, widths }: { name: string; widths: readonly PlannedWidth[] }): string {
  const first = widths[0];
  const last = widths.at(-1);
  if (first === undefined || last === undefined) return `${name}: too few laps.`;
  return `${name}: ± ${percent(first.half_width)} at ${first.laps} laps, ± ${percent(last.half_width)} at ${last.laps} laps.`;
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
