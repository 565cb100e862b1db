import type { Annotations, Data, Layout, Shape } from 'plotly.js';
import { formatNumber, formatPower } from '../findings/formatNumber.js';
import type { HazardResult, Result } from '../vocabulary.js';
import { errorBars } from './errorBars.js';
import {
  ALARM,
  AXIS,
  baseLayout,
  CONFIG,
  type Figure,
  INK,
  legendHeight,
  NOTHING,
  nothingDrawn,
  plainText,
  REFERENCE_COLOUR,
  SOFT,
  shortName,
  wrappedText,
} from './figure.js';
import { type HazardRow, hazardRowOf, type LabelState } from './hazardRows.js';
import { logAxis } from './sharedScale.js';

/** Px of a line of words above its strip of classes. */
const LINE = 16;
/** Places in a strip, px from its top: what the label allows, the power, the names of the classes. */
const STRIP = { label: 9, power: 25, names: 41, bottom: 50, next: 60 } as const;

const MARKS: Readonly<
  Record<
    LabelState,
    { readonly name: string; readonly symbol: 'diamond' | 'circle' | 'circle-open'; colour: string }
  >
> = {
  exceeded: { name: 'highest power: more than the label says', symbol: 'diamond', colour: ALARM },
  kept: { name: 'highest power', symbol: 'circle', colour: REFERENCE_COLOUR },
  open: { name: 'highest power, label undecided', symbol: 'circle-open', colour: REFERENCE_COLOUR },
};

/**
 * Is a source more hazardous than its label says? One row a source on a logarithmic scale: the highest
 * power with a bar to its upper bound, what the label allows, and the limits of the classes at its
 * wavelength. Limits: `accessibleEmissionLimits`. A screening aid, never a classification.
 */
export function hazardFigure(result: Pick<Result, 'hazard'>): Figure {
  const rows = placedRows(result.hazard.map(hazardRowOf));
  const title = 'How much each source can emit, against its label and the limits of the classes';
  if (rows.length === 0) return nothingDrawn(title, 'No source was judged.');
  const [low, high] = rangeOf(rows);
  const bottom = (rows.at(-1)?.top ?? 0) + STRIP.next;
  const data = [...powerTraces(rows, high), ...labelTrace(rows)];
  const layout: Partial<Layout> = {
    ...baseLayout(62 + bottom + legendHeight(data.length + 1)),
    xaxis: {
      ...AXIS,
      ...logAxis(low, high),
      title: { text: 'power of the whole beam / mW', standoff: 6 },
      showgrid: false,
    },
    yaxis: { ...AXIS, range: [bottom, 0], visible: false },
    margin: { l: 14, r: 14, t: 12, b: 48 },
    shapes: rows
      .flatMap((row) => stripOf(row, [low, high]))
      .map((zone, i) =>
        i === 0 ? { ...zone, showlegend: true, name: 'limits of classes 1 to 4' } : zone,
      ),
    annotations: rows.flatMap((row) => [
      wordsOf(row),
      ...classNames(row, [low, high]),
      ...boundNote(row, [low, high]),
    ]),
  };
  return {
    title,
    alt: altOf(result.hazard, rows),
    data: data.length === 0 ? [NOTHING] : data,
    layout,
    config: CONFIG,
  };
}

/** A row with its words and where its strip begins, px from the top of the plot. */
interface PlacedRow extends HazardRow {
  readonly lines: readonly string[];
  readonly top: number;
}

function placedRows(rows: readonly HazardRow[]): readonly PlacedRow[] {
  let top = 0;
  return rows.map((row, i) => {
    const lines = linesOf(row);
    top += (i === 0 ? 2 : STRIP.next) + LINE * lines.length;
    return { ...row, lines, top };
  });
}

/** Characters of a line that fit on a phone. */
const WIDTH = 42;

/** In words what the marks say; a label that understates has lines of its own. */
function linesOf(row: HazardRow): readonly string[] {
  const name = `<b>${shortName(row.source, 24)}</b>, ${formatNumber(row.wavelength_nm)} nm`;
  const label = `label: ${row.label}`;
  if (row.state !== 'exceeded') {
    return [name, ...linesFrom(`${label}; ${row.found}; ${row.verdict}`)];
  }
  const loud = linesFrom(`▲ ${row.verdict}`).map((line) => `<b>${line}</b>`);
  return [name, ...loud, ...linesFrom(`${label}; ${row.found}`)];
}

const linesFrom = (text: string) => wrappedText(text, WIDTH).split('<br>');

function rangeOf(rows: readonly HazardRow[]): [number, number] {
  const all = rows.flatMap((row) => [
    ...row.limits.map((limit) => limit.limit_mW),
    ...[row.highest_mW, row.upper_mW, row.label_mW].filter((one) => one !== null && one > 0),
  ]) as number[];
  return [Math.min(1, ...all) / 3, Math.max(500, ...all) * 4];
}

/** The highest power of every source; its bar reaches the edge where nothing bounds it. */
function powerTraces(rows: readonly PlacedRow[], edge: number): Data[] {
  const traces = (['exceeded', 'kept', 'open'] as const).map((state): Data => {
    const { name, symbol, colour } = MARKS[state];
    const own = rows.flatMap((row) =>
      row.state === state && row.highest_mW !== null ? [{ row, value: row.highest_mW }] : [],
    );
    return {
      type: 'scatter',
      mode: 'markers',
      name,
      x: own.map(({ value }) => value),
      y: own.map(({ row }) => row.top + STRIP.power),
      error_x: errorBars(
        own.map(({ row, value }) => ({ value, low: value, high: row.upper_mW ?? edge })),
        { colour, thickness: 3, width: 7 },
      ),
      marker: { symbol, color: colour, size: 13, line: { width: 2, color: colour } },
      hoverinfo: 'text',
      hovertext: own.map(({ row }) => `${plainText(row.source)}: ${powerWords(row)}`),
    };
  });
  const unbounded = rows.filter((row) => row.highest_mW !== null && row.upper_mW === null);
  const arrows: Data = {
    type: 'scatter',
    mode: 'markers',
    name: 'nothing bounds it',
    x: unbounded.map(() => edge * 0.8),
    y: unbounded.map((row) => row.top + STRIP.power),
    marker: { symbol: 'triangle-right', color: ALARM, size: 13 },
    hoverinfo: 'skip',
  };
  return [...traces, arrows].filter((trace) => 'x' in trace && (trace.x as number[]).length > 0);
}

function labelTrace(rows: readonly PlacedRow[]): Data[] {
  const own = rows.flatMap((row) => (row.label_mW === null ? [] : [{ row, at: row.label_mW }]));
  if (own.length === 0) return [];
  return [
    {
      type: 'scatter',
      mode: 'markers',
      name: 'most that the label allows',
      x: own.map(({ at }) => at),
      y: own.map(({ row }) => row.top + STRIP.label),
      marker: { symbol: 'y-down-open', color: INK, size: 13, line: { width: 2.5, color: INK } },
      hoverinfo: 'text',
      hovertext: own.map(({ at }) => `the label allows ${formatPower(at)}`),
    },
  ];
}

/** Zones of the classes, hollow and grey by turns, between the limits. */
function stripOf(row: PlacedRow, range: readonly [number, number]): Partial<Shape>[] {
  const zones = zonesOf(row, range);
  return zones.map(({ from, to }, place) => ({
    type: 'rect',
    layer: 'below',
    x0: from,
    x1: to,
    y0: row.top,
    y1: row.top + STRIP.bottom,
    fillcolor: (zones.length - place) % 2 === 1 ? '#eef0f3' : '#ffffff',
    line: { width: 1, color: SOFT },
  }));
}

interface Zone {
  readonly name: string;
  readonly from: number;
  readonly to: number;
}

/** Classes that a power can award here; a class whose lower limit is unknown has no zone. */
function zonesOf(row: HazardRow, [low, high]: readonly [number, number]): readonly Zone[] {
  const { limits } = row;
  const complete = limits[0]?.class === '1';
  const below = limits.map((limit, i) => ({
    name: limit.class as string,
    from: i === 0 ? low : limits[i - 1].limit_mW,
    to: limit.limit_mW,
  }));
  const top = limits.at(-1);
  const above = top?.class === '3B' ? [{ name: '4', from: top.limit_mW, to: high }] : [];
  return [...(complete ? below : below.slice(1)), ...above];
}

function classNames(row: PlacedRow, range: readonly [number, number]): Partial<Annotations>[] {
  return zonesOf(row, range).map(({ name, from, to }) => ({
    text: name,
    x: (Math.log10(from) + Math.log10(to)) / 2,
    y: row.top + STRIP.names,
    showarrow: false,
    font: { size: 12, color: INK },
  }));
}

function wordsOf(row: PlacedRow): Partial<Annotations> {
  return {
    text: row.lines.join('<br>'),
    xref: 'paper',
    x: 0,
    xanchor: 'left',
    y: row.top,
    yanchor: 'bottom',
    yshift: 1,
    align: 'left',
    showarrow: false,
    font: { size: 12, color: INK },
  };
}

/** The upper bound as a number beside its mark, on the side that has room. */
function boundNote(row: PlacedRow, [low, high]: readonly [number, number]): Partial<Annotations>[] {
  if (row.highest_mW === null || row.upper_mW === null) return [];
  const left = row.highest_mW > Math.sqrt(low * high);
  const upper = formatPower(row.upper_mW, { up: true });
  return [
    {
      text: `up to ${upper}`,
      x: Math.log10(left ? row.highest_mW : row.upper_mW),
      xanchor: left ? 'right' : 'left',
      xshift: left ? -9 : 9,
      y: row.top + STRIP.power,
      showarrow: false,
      bgcolor: 'rgba(255, 255, 255, 0.8)',
      borderpad: 0,
      font: { size: 12, color: INK },
    },
  ];
}

function powerWords(row: HazardRow): string {
  if (row.highest_mW === null) return 'no power above zero was read';
  const upper =
    row.upper_mW === null
      ? 'nothing bounds it'
      : `up to ${formatPower(row.upper_mW, { up: true })}`;
  return `${formatPower(row.highest_mW)} seen, ${upper} with its uncertainty`;
}

function altOf(hazard: readonly HazardResult[], rows: readonly HazardRow[]): string {
  const each = rows.map(
    (row) =>
      `${plainText(row.source)}, ${formatNumber(row.wavelength_nm)} nm: ${powerWords(row)}; ${row.found}; label ${plainText(row.label)}; ${row.verdict}.`,
  );
  const count = hazard.filter((one) => one.label_understates === true).length;
  return `${count} of ${rows.length} sources more hazardous than labelled, or possibly so. ${each.join(' ')}`;
}
