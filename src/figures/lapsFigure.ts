import type { Data, Layout, Shape } from 'plotly.js';
import { EXCLUSION_WORDS } from '../findings/findingWords.js';
import { formatNumber } from '../findings/formatNumber.js';
import { confidenceWords } from '../findings/words.js';
import type { ExclusionKind, Result, Study } from '../vocabulary.js';
import { EXCLUSION_KINDS, exclusionMark } from './exclusionMarks.js';
import {
  AXIS,
  BAND,
  baseLayout,
  CONFIG,
  counted,
  type Figure,
  INK,
  legendHeight,
  nothingDrawn,
  onceInLegend,
  plainText,
  REFERENCE_COLOUR,
  shortName,
  shortText,
} from './figure.js';
import { type LapRatio, lapRatios, type SeriesRatios } from './lapRatios.js';
import { gridAxes, gridPanels, scaleTitle } from './panels.js';
import { type Placed, placed, sharedRange } from './sharedScale.js';

const PANEL = 72;
/** A lap that is left out and lies beyond the scale stands below its arrow. */
const BESIDE_ARROW = 0.2;

/**
 * Do the laps of a series hold together, and what was left out? The ratio reference ÷ candidate of
 * each lap in percent off the median lap of its series, one panel a series, all on one scale, in the time
 * of the series (in laps where any series has no times). Laps as read: the drift between the two runs
 * of a lap is still in them, and not in the factor.
 */
export function lapsFigure(study: Study, result: Result): Figure {
  const all = lapRatios(study, result);
  const shown = all.filter((one) => one.laps.length > 0);
  const dark = all.length - shown.length;
  const title = 'How the laps of each series hold together, and what was left out';
  if (shown.length === 0) return nothingDrawn(title, 'There is no complete lap to compare.');
  const kinds = EXCLUSION_KINDS.filter((kind) =>
    shown.some((one) => one.laps.some((lap) => lap.left_out === kind)),
  );
  const range = rangeOf(shown);
  const confidence = confidenceWords(result.confidence);
  const clock = clockFor(shown);
  const grid = gridPanels(shown.length, PANEL, 28, 84 + legendHeight(3 + kinds.length));
  const data = shown.flatMap((one, index) => tracesOf(one, clock, range, grid.axes(index)));
  const layout: Partial<Layout> = {
    ...baseLayout(grid.height),
    margin: { l: 50, r: 12, t: 12, b: 48 },
    ...gridAxes(
      grid,
      shown.length,
      {
        ...AXIS,
        title: { text: clock.title, standoff: 6 },
        range: clock.range,
        nticks: 5,
        zeroline: false,
      },
      { ...AXIS, range, nticks: 4 },
    ),
    shapes: shown
      .flatMap((one, index) => bandOf(one, grid.axes(index)))
      .map((band, i) =>
        i === 0
          ? { ...band, showlegend: true, name: `${confidence} interval of K of the series` }
          : band,
      ),
    annotations: [
      ...shown.map((one, index) => grid.heading(index, headingOf(one))),
      scaleTitle(grid, 'reference ÷ candidate, off the median lap / %'),
    ],
  };
  return {
    title,
    alt: `${counted(shown.length, 'series', 'series')} on one scale. ${shown.map(altOf).join(' ')}${dark === 0 ? '' : ` ${dark} without a reading above zero not drawn.`}`,
    data: onceInLegend(data),
    layout,
    config: CONFIG,
  };
}

function rangeOf(shown: readonly SeriesRatios[]): [number, number] {
  const values = (list: readonly SeriesRatios[], kept: boolean) =>
    list.flatMap((one) =>
      one.laps.filter((lap) => (lap.left_out === null) === kept).map((lap) => lap.percent),
    );
  const usable = shown.filter((one) => one.usable);
  return sharedRange(
    [...values(usable, true), ...usable.flatMap((one) => one.interval ?? [])],
    [...values(shown, true), ...values(shown, false)],
  );
}

interface LapClock {
  readonly title: string;
  readonly at: (lap: LapRatio) => number;
  readonly range: [number, number];
}

/** One clock for all panels. */
function clockFor(shown: readonly SeriesRatios[]): LapClock {
  const timed = shown.every((one) => one.timed);
  const longest = Math.max(...shown.flatMap((one) => one.laps.map((lap) => lap.time_s)));
  const [unit, seconds] =
    longest > 10_800
      ? (['h', 3600] as const)
      : longest > 300
        ? (['min', 60] as const)
        : (['s', 1] as const);
  const at = (lap: LapRatio) => (timed ? lap.time_s / seconds : lap.lap);
  const ends = shown.flatMap((one) => one.laps.map(at));
  const [low, high] = [Math.min(...ends), Math.max(...ends)];
  const pad = 0.05 * (high - low) || 1;
  return {
    title: timed ? `time / ${unit}` : 'lap / number',
    at,
    range: [low - pad, high + pad],
  };
}

function tracesOf(
  one: SeriesRatios,
  clock: LapClock,
  range: [number, number],
  axes: { readonly xaxis: string; readonly yaxis: string },
): Data[] {
  const points = one.laps.map((lap) => ({ lap, x: clock.at(lap), ...placed(lap.percent, range) }));
  const trace = (own: typeof points, name: string, style: Partial<Data>): Data =>
    ({
      type: 'scatter',
      mode: 'markers',
      ...axes,
      name,
      x: own.map(({ x }) => x),
      y: own.map(({ at }) => at),
      hoverinfo: 'text',
      hovertext: own.map(({ lap }) => hoverOf(one, lap)),
      ...style,
    }) as Data;
  const of = (kind: ExclusionKind | null) =>
    points
      .filter(({ lap }) => lap.left_out === kind)
      .map((point) =>
        kind === null ? point : { ...point, ...placed(point.lap.percent, range, BESIDE_ARROW) },
      );
  const far = points.filter(({ beyond }) => beyond !== null);
  return [
    trace(of(null), 'lap kept', {
      mode: 'lines+markers',
      line: { color: REFERENCE_COLOUR, width: 1 },
      marker: { symbol: 'circle', color: REFERENCE_COLOUR, size: 6 },
    }),
    ...EXCLUSION_KINDS.map((kind) => {
      const { name, marker } = exclusionMark(kind);
      return trace(of(kind), name, { marker });
    }),
    trace(far, 'beyond the scale', {
      marker: { symbol: far.map(arrow), color: INK, size: 10, line: { width: 1, color: INK } },
    }),
  ].filter((each) => 'x' in each && (each.x as number[]).length > 0);
}

const arrow = ({ beyond }: Placed) => (beyond === 'low' ? 'triangle-down' : 'triangle-up');

function bandOf(
  one: SeriesRatios,
  { xaxis, yaxis }: { readonly xaxis: string; readonly yaxis: string },
): Partial<Shape>[] {
  if (one.interval === null) return [];
  return [
    {
      type: 'rect',
      layer: 'below',
      xref: `${xaxis} domain` as 'paper',
      yref: yaxis as 'y',
      x0: 0,
      x1: 1,
      y0: one.interval[0],
      y1: one.interval[1],
      fillcolor: BAND,
      line: { width: 1, color: REFERENCE_COLOUR, dash: 'dot' },
    },
  ];
}

const headingOf = (one: SeriesRatios) =>
  `${formatNumber(one.wavelength_nm)} nm</b> ${shortName(one.id, 16)}<b>`;

function hoverOf(one: SeriesRatios, lap: LapRatio): string {
  const out =
    lap.left_out === null
      ? ''
      : `<br>left out, ${EXCLUSION_WORDS[lap.left_out]}: ${shortText(lap.reason ?? '', 60)}`;
  return `${plainText(one.id)}, lap ${lap.lap}: ${formatNumber(lap.ratio)}, ${formatNumber(lap.percent, { digits: 2, unit: '%' })} off the median${out}`;
}

function altOf(one: SeriesRatios): string {
  const kept = one.laps.filter((lap) => lap.left_out === null);
  const name = `Series ${plainText(one.id)}, ${formatNumber(one.wavelength_nm)} nm: ${counted(kept.length, 'lap', 'laps')} kept`;
  const spread =
    kept.length === 0
      ? ''
      : `, from ${formatNumber(Math.min(...kept.map((lap) => lap.percent)), { digits: 2 })} to ${formatNumber(Math.max(...kept.map((lap) => lap.percent)), { digits: 2, unit: '%' })} off its median`;
  const out = EXCLUSION_KINDS.flatMap((kind) => {
    const count = one.laps.filter((lap) => lap.left_out === kind).length;
    return count === 0 ? [] : [`${count} left out, ${EXCLUSION_WORDS[kind]}`];
  });
  const dark = one.without_ratio === 0 ? [] : [`${one.without_ratio} without a ratio`];
  return `${[name + spread, ...out, ...dark].join('; ')}.`;
}
