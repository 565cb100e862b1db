import type { Data, Layout } from 'plotly.js';
import { formatNumber } from '../findings/formatNumber.js';
import type { Result, Run, Series, Study } from '../vocabulary.js';
import {
  AXIS,
  baseLayout,
  CANDIDATE_COLOUR,
  CONFIG,
  counted,
  type Figure,
  INK,
  legendHeight,
  onceInLegend,
  plainText,
  REFERENCE_COLOUR,
  shortText,
} from './figure.js';
import { resultOf } from './laps.js';
import { type AxisRecord, stackedPanels } from './panels.js';
import { type Clock, clockOf, groupsOf, legendNames, prepare } from './runGroups.js';
import { placed, sharedRange } from './sharedScale.js';

const PANEL = 118;

/**
 * The runs of every series in the order they happened, one panel a series: readings in percent
 * above or below the mean of the kept runs of both meters, all panels on the scale of the study; runs
 * left out are hollow, and runs beyond the scale stand at its edge.
 *
 * @param series ids of the series to draw; all when left out
 */
export function runsFigure(study: Study, result: Result, series?: readonly string[]): Figure {
  const shown = study.series.filter((one) => series === undefined || series.includes(one.id));
  const panels = stackedPanels(
    shown.map(() => PANEL),
    66,
    62 + legendHeight(legendNames(shown, result).size + 1),
  );
  const axes: AxisRecord = {};
  const range = rangeOf(study, result);
  const data: Data[] = shown.flatMap((one, index) => {
    const clock = clockOf(one);
    axes[panels.key('x', index)] = {
      ...AXIS,
      anchor: index === 0 ? 'y' : (`y${index + 1}` as 'y2'),
      title: { text: clock.title, standoff: 4 },
      nticks: 8,
      zeroline: false,
      automargin: false,
    };
    axes[panels.key('y', index)] = {
      ...AXIS,
      anchor: index === 0 ? 'x' : (`x${index + 1}` as 'x2'),
      domain: panels.domain(index),
      title: { text: 'off series mean / %', standoff: 4 },
      range,
      nticks: 5,
      automargin: false,
    };
    return tracesOf(one, result, { clock, range }, panels.axes(index));
  });
  const layout: Partial<Layout> = {
    ...baseLayout(panels.height),
    // Set, not automatic: many small axes make the automatic margin hunt.
    margin: { l: 62, r: 18, t: 12, b: 46 },
    ...axes,
    annotations: shown.map((one, index) =>
      panels.heading(index, `${shortText(one.id, 24)} · ${formatNumber(one.wavelength_nm)} nm`),
    ),
  };
  return {
    title: 'Runs in the order they happened',
    alt: `${counted(shown.length, 'panel', 'panels')}, one a series. ${shown.map((one) => altOf(one, result)).join(' ')}`,
    data: onceInLegend(data),
    layout,
    config: CONFIG,
  };
}

/** Kept runs of usable series are seen in full. */
function rangeOf(study: Study, result: Result): [number, number] {
  const values = (usable: boolean, keptOnly: boolean) =>
    study.series
      .filter((one) => !usable || resultOf(result, one.id)?.verdict === 'usable')
      .flatMap((one) => {
        const { left, mean } = prepare(one, result);
        const runs = one.runs.filter((run) => !keptOnly || !left.has(run.run));
        return mean === null ? [] : runs.map((run) => offMean(run, mean));
      });
  return sharedRange(values(true, true), values(false, false));
}

const offMean = (run: Run, mean: number) => 100 * (run.reading_mW / mean - 1);

function tracesOf(
  series: Series,
  result: Result,
  { clock, range }: { readonly clock: Clock; readonly range: [number, number] },
  axes: { readonly xaxis: string; readonly yaxis: string },
): Data[] {
  const { left, mean } = prepare(series, result);
  const on = (run: Run) => (mean === null ? null : placed(offMean(run, mean), range));
  const trace = (name: string, runs: readonly Run[], style: Partial<Data>): Data =>
    ({
      type: 'scatter',
      mode: 'markers',
      ...axes,
      name,
      x: runs.map(clock.at),
      y: runs.map((run) => on(run)?.at ?? null),
      hoverinfo: 'text',
      hovertext: runs.map((run) => hoverOf(run, left.get(run.run))),
      ...style,
    }) as Data;
  const groups = groupsOf(series).flatMap((group) => {
    const kept = group.runs.filter((run) => !left.has(run.run));
    const out = group.runs.filter((run) => left.has(run.run));
    const colour = group.meter === 'reference' ? REFERENCE_COLOUR : CANDIDATE_COLOUR;
    const symbol = symbolOf(group);
    const hollow = {
      symbol: `${symbol}-open` as const,
      size: 9,
      line: { color: colour, width: 1.8 },
    };
    return [
      trace(group.name, kept, {
        mode: 'lines+markers',
        line: { color: colour, width: 1.2, dash: dashOf(group) },
        marker: { color: colour, symbol, size: 8 },
      }),
      ...(out.length === 0
        ? []
        : [trace(`${group.meter}, left out`, out, { marker: { color: colour, ...hollow } })]),
    ];
  });
  const far = series.runs.filter((run) => (on(run)?.beyond ?? null) !== null);
  const arrow = (run: Run) => (on(run)?.beyond === 'low' ? 'triangle-down' : 'triangle-up');
  const arrows = trace(BEYOND, far, { marker: { symbol: far.map(arrow), color: INK, size: 11 } });
  return far.length === 0 ? groups : [...groups, arrows];
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
