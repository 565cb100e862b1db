import type { Data } from 'plotly.js';
import { counted, formatNumber } from '../findings/formatNumber.js';
import { asTaken } from '../readings/asTaken.js';
import type { Result, Run, Series, Study } from '../vocabulary.js';
import {
  axis,
  CANDIDATE_COLOUR,
  type Figure,
  figureOf,
  INK,
  legendHeight,
  onceInLegend,
  plainText,
  REFERENCE_COLOUR,
  shortText,
} from './figure.js';
import { resultOf } from './laps.js';
import { drawn, marks } from './marks.js';
import { axesOf, stackedPanels } from './panels.js';
import { type Clock, clockOf, groupsOf, legendNames, prepare } from './runGroups.js';
import type { AxisNames } from './shapes.js';
import { placed, sharedRange, upOrDown } from './sharedScale.js';

const PANEL = 118;

/**
 * The runs of every series in the order they happened, one panel a series: readings in percent
 * above or below the middle between the medians of both meters' kept runs, which one slip of the pen
 * does not move, all panels on the scale of the study; runs left out are hollow, and runs beyond the
 * scale stand at its edge.
 *
 * @param series ids of the series to draw; all when left out
 */
export function runsFigure(recorded: Study, result: Result, series?: readonly string[]): Figure {
  const study = asTaken(recorded);
  const shown = study.series.filter((one) => series === undefined || series.includes(one.id));
  const panels = stackedPanels(
    shown.map(() => PANEL),
    66,
    62 + legendHeight(legendNames(shown, result).size + 1),
  );
  const range = rangeOf(study, result);
  const clocks = shown.map(clockOf);
  const data = shown.flatMap((one, i) =>
    tracesOf(one, result, { clock: clocks[i], range }, panels.axes(i)),
  );
  return figureOf({
    title: 'Runs in the order they happened',
    alt: `${counted(shown.length, 'panel', 'panels')}, one a series. ${shown.map((one) => altOf(one, result)).join(' ')}`,
    height: panels.height,
    data: onceInLegend(data),
    layout: {
      // Set, not automatic: many small axes make the automatic margin hunt.
      margin: { l: 62, r: 18, t: 12, b: 46 },
      ...axesOf(panels, shown.length, (i) => [
        axis([clocks[i].title, 4], { nticks: 8, zeroline: false, automargin: false }),
        axis(['off series middle / %', 4], { range, nticks: 5, automargin: false }),
      ]),
      annotations: shown.map((one, index) =>
        panels.heading(index, `${shortText(one.id, 24)} · ${formatNumber(one.wavelength_nm)} nm`),
      ),
    },
  });
}

/** Kept runs of usable series are seen in full. */
function rangeOf(study: Study, result: Result): [number, number] {
  const values = (usable: boolean, keptOnly: boolean) =>
    study.series
      .filter((one) => !usable || resultOf(result, one.id)?.verdict === 'usable')
      .flatMap((one) => {
        const { left, middle } = prepare(one, result);
        const runs = one.runs.filter((run) => !keptOnly || !left.has(run.run));
        return middle === null ? [] : runs.map((run) => offMiddle(run, middle));
      });
  return sharedRange(values(true, true), values(false, false));
}

const offMiddle = (run: Run, middle: number) => 100 * (run.reading_mW / middle - 1);

function tracesOf(
  series: Series,
  result: Result,
  { clock, range }: { readonly clock: Clock; readonly range: [number, number] },
  axes: AxisNames,
): Data[] {
  const { left, middle } = prepare(series, result);
  const on = (run: Run) => (middle === null ? null : placed(offMiddle(run, middle), range));
  const points = (runs: readonly Run[]) =>
    runs.map((run) => ({
      x: clock.at(run),
      y: on(run)?.at ?? null,
      text: hoverOf(run, left.get(run.run)),
    }));
  const groups = groupsOf(series).flatMap((group) => {
    const kept = group.runs.filter((run) => !left.has(run.run));
    const out = group.runs.filter((run) => left.has(run.run));
    const colour = group.meter === 'reference' ? REFERENCE_COLOUR : CANDIDATE_COLOUR;
    const symbol = symbolOf(group);
    const line = { color: colour, width: 1.2, dash: dashOf(group) };
    const hollow = { symbol: `${symbol}-open`, colour, size: 9, rim: 1.8 };
    return [
      marks(
        group.name,
        points(kept),
        { symbol, colour, size: 8 },
        { ...axes, mode: 'lines+markers', line },
      ),
      ...drawn([marks(`${group.meter}, left out`, points(out), hollow, axes)]),
    ];
  });
  const far = series.runs.filter((run) => (on(run)?.beyond ?? null) !== null);
  const arrows = far.map((run) => upOrDown(on(run) ?? { beyond: null }));
  const beyond = marks(BEYOND, points(far), { symbol: arrows, colour: INK, size: 11 }, axes);
  return [...groups, ...drawn([beyond])];
}

/** Drawn at the edge, over the mark of the run. */
const BEYOND = 'beyond the scale';

/** One meter under several settings: none of them looks like the meter in a comparison. */
function symbolOf({ meter, setting }: ReturnType<typeof groupsOf>[number]) {
  if (setting !== null)
    return (['square', 'triangle-up', 'triangle-down', 'star'] as const)[setting % 4];
  return meter === 'reference' ? ('circle' as const) : ('diamond' as const);
}

function dashOf(group: { readonly meter: string; readonly setting: number | null }) {
  if ((group.setting ?? 0) > 0) return 'dash' as const;
  return group.meter === 'reference' ? ('solid' as const) : ('dot' as const);
}

function hoverOf(run: Run, reason: string | undefined): string {
  const out = reason === undefined ? '' : `<br>left out: ${shortText(reason, 60)}`;
  const note = run.note === null ? '' : `<br>note: ${shortText(run.note, 60)}`;
  return `run ${run.run}, ${run.meter}: ${formatNumber(run.reading_mW, { unit: 'mW' })}${out}${note}`;
}

function altOf(series: Series, result: Result): string {
  const of = resultOf(result, series.id);
  const percent = of?.difference_percent.mean ?? null;
  const difference =
    percent === null
      ? ''
      : `, the candidate on average ${formatNumber(Math.abs(percent), { digits: 2 })} % ${percent < 0 ? 'below' : 'above'} the reference`;
  const left = prepare(series, result).left.size;
  const out = left === 0 ? 'none left out' : `${left} left out`;
  return `Series ${plainText(series.id)}: ${counted(series.runs.length, 'run', 'runs')}, ${out}${difference}.`;
}
