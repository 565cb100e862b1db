import type { Annotations, Data, Layout, Shape } from 'plotly.js';
import { EXCLUSION_WORDS } from '../findings/findingWords.js';
import { formatNumber } from '../findings/formatNumber.js';
import { confidenceWords } from '../findings/words.js';
import type { ExclusionEffect, ExclusionKind, Result, SeriesResult } from '../vocabulary.js';
import { errorBars } from './errorBars.js';
import { EXCLUSION_KINDS, exclusionMark } from './exclusionMarks.js';
import {
  AXIS,
  baseLayout,
  CONFIG,
  type Figure,
  INK,
  legendHeight,
  nothingDrawn,
  plainText,
  REFERENCE_COLOUR,
  shortName,
} from './figure.js';
import { sharedRange } from './sharedScale.js';
import { toleranceBand } from './toleranceBand.js';

const ROW = 52;

/** K of a series as used and with the runs of one kind kept, relative to the one that is used. */
interface Row {
  readonly series: SeriesResult;
  readonly kind: ExclusionKind;
  readonly runs: readonly number[];
  /** K with the runs kept, in percent off the K that is used. */
  readonly percent: number;
  /** Interval of the K that is used, in percent off it; `null` where it has none. */
  readonly interval: readonly [number, number] | null;
}

/**
 * What would K be with the left-out runs kept? One row for each kind of reason in each series: the K
 * that is used with its interval at zero, and the K with the runs in, in percent off it.
 */
export function leftOutFigure(result: Result): Figure {
  const title = 'How far K would move with the left-out runs kept';
  const effects = result.series.flatMap((series) =>
    series.exclusion_effects.map((effect) => ({ series, effect })),
  );
  if (effects.length === 0) return nothingDrawn(title, 'No run was left out.');
  const rows = effects.flatMap(({ series, effect }) => rowOf(series, effect));
  const untold = effects.length - rows.length;
  if (rows.length === 0) return nothingDrawn(title, 'K cannot be computed with these runs kept.');
  const tolerance = result.tolerance_percent;
  const range = sharedRange(
    [0, ...rows.flatMap((row) => [row.percent, ...(row.interval ?? [])])],
    [-tolerance, tolerance],
  );
  const data = [usedTrace(rows, result.confidence), ...keptTraces(rows)];
  const layout: Partial<Layout> = {
    ...baseLayout(62 + ROW * rows.length + legendHeight(data.length + 1)),
    margin: { l: 14, r: 14, t: 12, b: 48 },
    xaxis: {
      ...AXIS,
      range,
      nticks: 7,
      zeroline: false,
      title: { text: 'K with the runs kept, off the K that is used / %', standoff: 6 },
    },
    yaxis: { ...AXIS, range: [rows.length - 0.5, -0.75], visible: false },
    shapes: [toleranceBand(tolerance), ...rows.map(moved)],
    annotations: rows.map(words),
  };
  const missing = untold === 0 ? '' : ` ${untold} more cannot be computed with the runs kept.`;
  return {
    title,
    alt: `${rows.map(altOf).join(' ')}${missing}`,
    data,
    layout,
    config: CONFIG,
  };
}

function rowOf(series: SeriesResult, effect: ExclusionEffect): Row[] {
  const { factor_with: kept, factor_without: used, kind, runs } = effect;
  if (kept === null || used === null) return [];
  const percent = (k: number) => 100 * (k / used - 1);
  const { low, high } = series.factor;
  const interval = low === null || high === null ? null : ([percent(low), percent(high)] as const);
  return [{ series, kind, runs, percent: percent(kept), interval }];
}

function usedTrace(rows: readonly Row[], confidence: number): Data {
  return {
    type: 'scatter',
    mode: 'markers',
    name: `K that is used, ${confidenceWords(confidence)} interval of the series`,
    x: rows.map(() => 0),
    y: rows.map((_, i) => i),
    error_x: errorBars(
      rows.map(({ interval }) => ({ value: 0, low: interval?.[0] ?? 0, high: interval?.[1] ?? 0 })),
      { colour: REFERENCE_COLOUR, thickness: 2.5, width: 7 },
    ),
    marker: { symbol: 'diamond', color: REFERENCE_COLOUR, size: 11 },
    hoverinfo: 'text',
    hovertext: rows.map(({ series }) => `K = ${formatNumber(series.factor.value)}`),
  };
}

/** K with the runs in, marked by the kind of reason as in the picture of the laps. */
function keptTraces(rows: readonly Row[]): Data[] {
  const placed = rows.map((row, i) => ({ row, i }));
  return EXCLUSION_KINDS.flatMap((kind) => {
    const own = placed.filter(({ row }) => row.kind === kind);
    if (own.length === 0) return [];
    const { marker } = exclusionMark(kind);
    return [
      {
        type: 'scatter' as const,
        mode: 'markers' as const,
        name: `K with them kept (${EXCLUSION_WORDS[kind]})`,
        x: own.map(({ row }) => row.percent),
        y: own.map(({ i }) => i),
        marker,
        hoverinfo: 'text' as const,
        hovertext: own.map(({ row }) => altOf(row)),
      },
    ];
  });
}

/** From the K that is used to the other. */
function moved(row: Row, i: number): Partial<Shape> {
  const line = { color: INK, width: 1, dash: 'dot' as const };
  return { type: 'line', layer: 'below', x0: 0, x1: row.percent, y0: i, y1: i, line };
}

function words(row: Row, i: number): Partial<Annotations> {
  const { series, kind, runs } = row;
  return {
    text: `<b>${formatNumber(series.wavelength_nm)} nm</b> ${shortName(series.id, 12)}, ${EXCLUSION_WORDS[kind]}: ${runWords(runs)}`,
    xref: 'paper',
    x: 0,
    xanchor: 'left',
    y: i - 0.2,
    yanchor: 'bottom',
    showarrow: false,
    bgcolor: 'rgba(255, 255, 255, 0.8)',
    borderpad: 0,
    font: { size: 12, color: INK },
  };
}

/** "run 3", "runs 1, 2", "3 runs". */
function runWords(runs: readonly number[]): string {
  if (runs.length > 2) return `${runs.length} runs`;
  return `${runs.length === 1 ? 'run' : 'runs'} ${runs.join(', ')}`;
}

function altOf(row: Row): string {
  const { series, kind, runs, percent, interval } = row;
  const inside =
    interval === null
      ? ''
      : percent >= interval[0] && percent <= interval[1]
        ? ', inside its interval'
        : ', outside its interval';
  return `Series ${plainText(series.id)}, ${EXCLUSION_WORDS[kind]}: with ${runWords(runs)} kept K would be ${formatNumber(Math.abs(percent), { digits: 2 })} % ${percent < 0 ? 'lower' : 'higher'}${inside}.`;
}
