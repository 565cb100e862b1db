import type { Annotations, Data, Shape } from 'plotly.js';
import { EXCLUSION_WORDS } from '../findings/findingWords.js';
import { formatNumber } from '../findings/formatNumber.js';
import { confidenceWords } from '../findings/words.js';
import type { ExclusionEffect, ExclusionKind, Result, SeriesResult } from '../vocabulary.js';
import { errorBars } from './errorBars.js';
import { EXCLUSION_KINDS, exclusionMark } from './exclusionMarks.js';
import {
  axis,
  type Figure,
  figureOf,
  INK,
  legendHeight,
  note,
  nothingDrawn,
  plainText,
  REFERENCE_COLOUR,
  shortName,
} from './figure.js';
import { drawn, marks } from './marks.js';
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
  const missing = untold === 0 ? '' : ` ${untold} more cannot be computed with the runs kept.`;
  return figureOf({
    title,
    alt: `${rows.map(altOf).join(' ')}${missing}`,
    height: 62 + ROW * rows.length + legendHeight(data.length + 1),
    data,
    layout: {
      margin: { l: 14, r: 14, t: 12, b: 48 },
      xaxis: axis(['K with the runs kept, off the K that is used / %', 6], {
        range,
        nticks: 7,
        zeroline: false,
      }),
      yaxis: axis(null, { range: [rows.length - 0.5, -0.75], visible: false }),
      shapes: [toleranceBand(tolerance), ...rows.map(moved)],
      annotations: rows.map(words),
    },
  });
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
  const spreads = rows.map(({ interval }) => ({
    value: 0,
    low: interval?.[0] ?? 0,
    high: interval?.[1] ?? 0,
  }));
  return marks(
    `K that is used, ${confidenceWords(confidence)} interval of the series`,
    rows.map(({ series }, i) => ({
      x: 0,
      y: i,
      text: `K = ${formatNumber(series.factor.value)}`,
    })),
    { symbol: 'diamond', colour: REFERENCE_COLOUR, size: 11 },
    { error_x: errorBars(spreads, { colour: REFERENCE_COLOUR, thickness: 2.5, width: 7 }) },
  );
}

/** K with the runs in, marked by the kind of reason as in the picture of the laps. */
function keptTraces(rows: readonly Row[]): Data[] {
  const points = rows.map((row, y) => ({ kind: row.kind, x: row.percent, y, text: altOf(row) }));
  return drawn(
    EXCLUSION_KINDS.map((kind) =>
      marks(
        `K with them kept (${EXCLUSION_WORDS[kind]})`,
        points.filter((point) => point.kind === kind),
        exclusionMark(kind),
      ),
    ),
  );
}

/** From the K that is used to the other. */
function moved(row: Row, i: number): Partial<Shape> {
  const line = { color: INK, width: 1, dash: 'dot' as const };
  return { type: 'line', layer: 'below', x0: 0, x1: row.percent, y0: i, y1: i, line };
}

function words(row: Row, i: number): Partial<Annotations> {
  const { series, kind, runs } = row;
  const text = `<b>${formatNumber(series.wavelength_nm)} nm</b> ${shortName(series.id, 12)}, ${EXCLUSION_WORDS[kind]}: ${runWords(runs)}`;
  return note(text, {
    xref: 'paper',
    x: 0,
    xanchor: 'left',
    y: i - 0.2,
    yanchor: 'bottom',
    bgcolor: 'rgba(255, 255, 255, 0.8)',
    borderpad: 0,
  });
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
