import type { Annotations, Data, Shape } from 'plotly.js';
import { formatNumber, formatPower } from '../findings/formatNumber.js';
import type { HazardResult, Result } from '../vocabulary.js';
import { errorBars } from './errorBars.js';
import {
  ALARM,
  axis,
  type Figure,
  figureOf,
  INK,
  legendHeight,
  note,
  nothingDrawn,
  OVER_LINES,
  plainText,
  REFERENCE_COLOUR,
  SOFT,
  shortName,
  wrappedText,
} from './figure.js';
import { type HazardRow, hazardRowOf, type LabelState } from './hazardRows.js';
import { drawn, marks } from './marks.js';
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
  const zones = rows.flatMap((row) => stripOf(row, [low, high]));
  return figureOf({
    title,
    alt: altOf(result.hazard, rows),
    height: 62 + bottom + legendHeight(data.length + 1),
    data,
    layout: {
      xaxis: axis(['power of the whole beam / mW', 6], {
        ...logAxis(low, high),
        showgrid: false,
      }),
      yaxis: axis(null, { range: [bottom, 0], visible: false }),
      margin: { l: 14, r: 14, t: 12, b: 48 },
      shapes: zones.map((zone, i) =>
        i === 0 ? { ...zone, showlegend: true, name: 'limits of classes 1 to 4' } : zone,
      ),
      annotations: rows.flatMap((row) => [
        wordsOf(row),
        ...classNames(row, [low, high]),
        ...boundNote(row, [low, high]),
      ]),
    },
  });
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
const WIDTH = 46;

/** In words what the marks say; a label that understates has lines of its own. */
function linesOf(row: HazardRow): readonly string[] {
  const name = `<b>${shortName(row.source, 24)}</b>, ${formatNumber(row.wavelength_nm)} nm`;
  const label = linesFrom(`label: ${row.label}`);
  if (row.state !== 'exceeded') {
    return [name, ...label, ...linesFrom(`${row.found}; ${row.verdict}`)];
  }
  const loud = linesFrom(`▲ ${row.verdict}`).map((line) => `<b>${line}</b>`);
  return [name, ...loud, ...label, ...linesFrom(row.found)];
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
  const seen = rows.flatMap((row) =>
    row.highest_mW === null
      ? []
      : [{ row, x: row.highest_mW, y: row.top + STRIP.power, text: powerText(row) }],
  );
  const traces = (['exceeded', 'kept', 'open'] as const).map((state) => {
    const { name, symbol, colour } = MARKS[state];
    const own = seen.filter(({ row }) => row.state === state);
    const bars = own.map(({ row, x }) => ({ value: x, low: x, high: row.upper_mW ?? edge }));
    const error_x = errorBars(bars, { colour, thickness: 3, width: 7 });
    return marks(name, own, { symbol, colour, size: 13, rim: 2 }, { error_x });
  });
  const arrows = seen
    .filter(({ row }) => row.upper_mW === null)
    .map(({ y }) => ({ x: edge * 0.8, y }));
  const right = { symbol: 'triangle-right', colour: ALARM, size: 13 };
  return drawn([...traces, marks('nothing bounds it', arrows, right, { hoverinfo: 'skip' })]);
}

const powerText = (row: HazardRow) => `${plainText(row.source)}: ${powerWords(row)}`;

function labelTrace(rows: readonly PlacedRow[]): Data[] {
  const own = rows.flatMap(({ label_mW: x, top }) =>
    x === null ? [] : [{ x, y: top + STRIP.label, text: `the label allows ${formatPower(x)}` }],
  );
  const style = { symbol: 'y-down-open', colour: INK, size: 13, rim: 2.5 };
  return drawn([marks('most that the label allows', own, style)]);
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
  return zonesOf(row, range).map(({ name, from, to }) =>
    note(name, { x: (Math.log10(from) + Math.log10(to)) / 2, y: row.top + STRIP.names }),
  );
}

function wordsOf(row: PlacedRow): Partial<Annotations> {
  return note(row.lines.join('<br>'), {
    xref: 'paper',
    x: 0,
    xanchor: 'left',
    y: row.top,
    yanchor: 'bottom',
    yshift: 1,
    align: 'left',
  });
}

/** The upper bound as a number beside its mark, on the side that has room. */
function boundNote(row: PlacedRow, [low, high]: readonly [number, number]): Partial<Annotations>[] {
  if (row.highest_mW === null || row.upper_mW === null) return [];
  const left = row.highest_mW > Math.sqrt(low * high);
  const upper = formatPower(row.upper_mW, { up: true });
  return [
    note(`up to ${upper}`, {
      x: Math.log10(left ? row.highest_mW : row.upper_mW),
      xanchor: left ? 'right' : 'left',
      xshift: left ? -9 : 9,
      y: row.top + STRIP.power,
      ...OVER_LINES,
    }),
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
