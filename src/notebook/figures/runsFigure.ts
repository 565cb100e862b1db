import type { Data, Layout } from 'plotly.js';
import { formatNumber } from '../../report/formatNumber.js';
import type { Result, Run, Series, Study } from '../../vocabulary.js';
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

interface Clock {
  readonly title: string;
  readonly at: (run: Run) => number;
}

/** Time in a unit that suits its length, or the number of the run when no time was recorded. */
function clockOf(series: Series): Clock {
  if (!series.timed) return { title: 'run (no times recorded)', at: (run) => run.run };
  const longest = Math.max(0, ...series.runs.map((run) => run.time_s));
  const [unit, seconds] = longest > 10_800 ? ['h', 3600] : longest > 300 ? ['min', 60] : ['s', 1];
  return { title: `time since the first run / ${unit}`, at: (run) => run.time_s / Number(seconds) };
}

interface Prepared {
  readonly left: ReadonlyMap<number, string>;
  readonly mean: number;
}

function prepare(series: Series, result: Result): Prepared {
  const left = new Map(
    (resultOf(result, series.id)?.excluded ?? []).map((one) => [one.run, one.reason] as const),
  );
  for (const run of series.runs) {
    if (run.exclude !== null && !left.has(run.run)) left.set(run.run, run.exclude);
  }
  const kept = series.runs.filter((run) => !left.has(run.run));
  const used = kept.length > 0 ? kept : series.runs;
  const mean = used.reduce((sum, run) => sum + run.reading_mW, 0) / Math.max(1, used.length);
  return { left, mean: mean > 0 ? mean : 1 };
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
  const percent = (run: Run) => 100 * (run.reading_mW / mean - 1);
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

/** Every entry that the legend will have. */
function legendNames(shown: readonly Series[], result: Result): ReadonlySet<string> {
  return new Set(
    shown.flatMap((series) => {
      const { left } = prepare(series, result);
      return groupsOf(series).flatMap((group) => [
        group.name,
        ...(group.runs.some((run) => left.has(run.run)) ? [`${group.meter}, left out`] : []),
      ]);
    }),
  );
}

/** By meter; in a series about the wavelength setting by meter and setting. */
function groupsOf(series: Series) {
  const settings = [...new Set(series.runs.map((run) => run.setting_nm))];
  const split = series.kind === 'setting';
  return (['reference', 'candidate'] as const).flatMap((meter) =>
    (split ? settings : [null]).flatMap((setting, index) => {
      const runs = series.runs.filter(
        (run) => run.meter === meter && (!split || run.setting_nm === setting),
      );
      const name =
        split && setting !== null ? `${meter}, set to ${formatNumber(setting)} nm` : meter;
      return runs.length === 0 ? [] : [{ meter, runs, name, second: split && index > 0 }];
    }),
  );
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
