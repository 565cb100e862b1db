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
  legendHeight,
  plainText,
  REFERENCE_COLOUR,
  shortText,
} from './figure.js';
import { resultOf } from './laps.js';
import { type AxisRecord, stackedPanels } from './panels.js';
import { type Clock, clockOf, groupsOf, legendNames, prepare } from './runGroups.js';

const PANEL = 118;

/**
 * The runs of every series in the order they happened, one panel a series: readings in percent
 * above or below the mean of the kept runs of both meters; runs left out are hollow.
 *
 * @param series ids of the series to draw; all when left out
 */
export function runsFigure(study: Study, result: Result, series?: readonly string[]): Figure {
  const shown = study.series.filter((one) => series === undefined || series.includes(one.id));
  const panels = stackedPanels(
    shown.map(() => PANEL),
    66,
    62 + legendHeight(legendNames(shown, result).size),
  );
  const axes: AxisRecord = {};
  const legendShown = new Set<string>();
  const data: Data[] = shown.flatMap((one, index) => {
    const clock = clockOf(one);
    axes[panels.key('x', index)] = {
      ...AXIS,
      anchor: index === 0 ? 'y' : (`y${index + 1}` as 'y2'),
      title: { text: clock.title, font: { size: 11 }, standoff: 4 },
      nticks: 8,
      zeroline: false,
      automargin: false,
    };
    axes[panels.key('y', index)] = {
      ...AXIS,
      anchor: index === 0 ? 'x' : (`x${index + 1}` as 'x2'),
      domain: panels.domain(index),
      title: { text: 'off the mean / %', font: { size: 11 }, standoff: 4 },
      nticks: 6,
      automargin: false,
    };
    return tracesOf(one, result, clock, panels.axes(index), legendShown);
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
    data,
    layout,
    config: CONFIG,
  };
}

function tracesOf(
  series: Series,
  result: Result,
  clock: Clock,
  axes: { readonly xaxis: string; readonly yaxis: string },
  legendShown: Set<string>,
): Data[] {
  const { left, mean } = prepare(series, result);
  const groups = groupsOf(series);
  const percent = (run: Run) => (mean === null ? null : 100 * (run.reading_mW / mean - 1));
  const trace = (name: string, runs: readonly Run[], style: Partial<Data>): Data => {
    const first = !legendShown.has(name);
    legendShown.add(name);
    return {
      type: 'scatter',
      ...axes,
      name,
      legendgroup: name,
      showlegend: first,
      x: runs.map(clock.at),
      y: runs.map(percent),
      hoverinfo: 'text',
      hovertext: runs.map((run) => hoverOf(run, left.get(run.run))),
      ...style,
    } as Data;
  };
  return groups.flatMap((group) => {
    const kept = group.runs.filter((run) => !left.has(run.run));
    const out = group.runs.filter((run) => left.has(run.run));
    const colour = group.meter === 'reference' ? REFERENCE_COLOUR : CANDIDATE_COLOUR;
    const symbol = group.meter === 'reference' ? 'circle' : 'diamond';
    return [
      trace(group.name, kept, {
        mode: 'lines+markers',
        line: { color: colour, width: 1.2, dash: dashOf(group) },
        marker: { color: colour, symbol: group.second ? 'triangle-up' : symbol, size: 8 },
      }),
      ...(out.length === 0
        ? []
        : [
            trace(`${group.meter}, left out`, out, {
              mode: 'markers',
              marker: {
                color: colour,
                symbol: `${symbol}-open`,
                size: 9,
                line: { color: colour, width: 1.8 },
              },
            }),
          ]),
    ];
  });
}

function dashOf(group: { readonly meter: string; readonly second: boolean }) {
  if (group.second) return 'dash' as const;
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
