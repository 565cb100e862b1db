import type { Data } from 'plotly.js';
import { EXCLUSION_WORDS } from '../findings/findingWords.js';
import { counted, formatNumber } from '../findings/formatNumber.js';
import { confidenceWords } from '../findings/words.js';
import type { ExclusionKind, Result, Study } from '../vocabulary.js';
import { EXCLUSION_KINDS, exclusionMark } from './exclusionMarks.js';
import {
  axis,
  BAND,
  type Figure,
  figureOf,
  INK,
  legendHeight,
  nothingDrawn,
  onceInLegend,
  padded,
  plainText,
  REFERENCE_COLOUR,
  shortName,
  shortText,
} from './figure.js';
import { type LapRatio, lapRatios, type SeriesRatios } from './lapRatios.js';
import { drawn, marks } from './marks.js';
import { type GridHeading, gridAxes, gridPanels } from './panels.js';
import { timeUnit } from './runGroups.js';
import { type AxisNames, panelBands } from './shapes.js';
import { placed, sharedRange, upOrDown } from './sharedScale.js';

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
  const clock = clockFor(shown);
  const grid = gridPanels(shown.map(headingOf), PANEL, 28, 84 + legendHeight(3 + kinds.length));
  const data = shown.flatMap((one, index) => tracesOf(one, clock, range, grid.axes(index)));
  const bands = shown.flatMap(({ interval }, index) =>
    interval === null ? [] : [{ axes: grid.axes(index), ends: interval }],
  );
  return figureOf({
    title,
    alt: `${counted(shown.length, 'series', 'series')} on one scale. ${shown.map(altOf).join(' ')}${dark === 0 ? '' : ` ${dark} without a reading above zero not drawn.`}`,
    height: grid.height,
    data: onceInLegend(data),
    layout: {
      margin: { l: 50, r: 12, t: 12, b: 48 },
      ...gridAxes(
        grid,
        shown.length,
        axis([clock.title, 6], { range: clock.range, nticks: 5, zeroline: false }),
        axis(null, { range, nticks: 4 }),
      ),
      shapes: panelBands(bands, {
        fill: BAND,
        edge: { width: 1, color: REFERENCE_COLOUR, dash: 'dot' },
        name: `${confidenceWords(result.confidence)} interval of K of the series`,
      }),
      annotations: [
        ...grid.headings,
        grid.scaleTitle('reference ÷ candidate, off the median lap / %'),
      ],
    },
  });
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
  const { unit, seconds } = timeUnit(longest);
  const at = (lap: LapRatio) => (timed ? lap.time_s / seconds : lap.lap);
  const ends = shown.flatMap((one) => one.laps.map(at));
  return {
    title: timed ? `time / ${unit}` : 'lap / number',
    at,
    range: padded(ends, 0.05),
  };
}

function tracesOf(
  one: SeriesRatios,
  clock: LapClock,
  range: [number, number],
  axes: AxisNames,
): Data[] {
  const pointOf = (lap: LapRatio, inset?: number) => {
    const { at: y, beyond } = placed(lap.percent, range, inset);
    return { x: clock.at(lap), y, text: hoverOf(one, lap), beyond };
  };
  const of = (kind: ExclusionKind | null) =>
    one.laps
      .filter((lap) => lap.left_out === kind)
      .map((lap) => pointOf(lap, kind === null ? undefined : BESIDE_ARROW));
  const far = one.laps.map((lap) => pointOf(lap)).filter(({ beyond }) => beyond !== null);
  const kept = { symbol: 'circle', colour: REFERENCE_COLOUR, size: 6 };
  const joined = { mode: 'lines+markers', line: { color: REFERENCE_COLOUR, width: 1 } } as const;
  return drawn([
    marks('lap kept', of(null), kept, { ...axes, ...joined }),
    ...EXCLUSION_KINDS.map((kind) =>
      marks(`left out: ${EXCLUSION_WORDS[kind]}`, of(kind), exclusionMark(kind), axes),
    ),
    marks(
      'beyond the scale',
      far,
      { symbol: far.map(upOrDown), colour: INK, size: 10, rim: 1 },
      { ...axes, cliponaxis: false },
    ),
  ]);
}

const headingOf = (one: SeriesRatios): GridHeading => [
  `${formatNumber(one.wavelength_nm)} nm`,
  shortName(one.id, 16),
];

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
