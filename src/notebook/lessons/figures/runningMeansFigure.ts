import type { Data } from 'plotly.js';
import {
  axis,
  type Figure,
  figureOf,
  legendHeight,
  REFERENCE_COLOUR,
  TOLERANCE_BAND,
} from '../../../figures/figure.js';
import { levelBand, levelLine } from '../../../figures/shapes.js';
import { formatNumber } from '../../../findings/formatNumber.js';
import { mean } from '../../../statistics/summary.js';
import type { Series } from '../../../vocabulary.js';
import { lapLogs } from '../estimates.js';

/** After each lap: how far K from the laps so far lies from the truth, in percent. */
export function runningErrors(series: Pick<Series, 'runs'>, truth: number): readonly number[] {
  const logs = lapLogs(series);
  return logs.map((_, i) => 100 * (Math.exp(mean(logs.slice(0, i + 1))) / truth - 1));
}

/**
 * K against the number of laps so far, a line a series, as the error that only the bench knows; and
 * the band in which what stays the same through a series leaves 95 of 100.
 *
 * @param options.staying relative standard uncertainty of all that stays the same in a series
 */
export function runningMeansFigure(
  list: readonly Series[],
  options: { readonly truth: number; readonly staying: number },
): Figure {
  const lines = list.map((series) => runningErrors(series, options.truth));
  const half = 196 * options.staying;
  const laps = Math.max(...lines.map((line) => line.length));
  const data: Data[] = lines.map((line, index) => ({
    type: 'scatter',
    mode: 'lines',
    name: 'one workshop, lap after lap',
    showlegend: index === 0,
    x: line.map((_, i) => i + 1),
    y: [...line],
    line: { color: REFERENCE_COLOUR, width: 1.2 },
    opacity: 0.75,
    hoverinfo: 'x+y',
  }));
  const ends = lines.map((line) => line.at(-1) ?? 0);
  return figureOf({
    title: 'The mean settles, but where?',
    alt: `${lines.length} lines over ${laps} laps. They end between ${formatNumber(Math.min(...ends), { digits: 2 })} and ${formatNumber(Math.max(...ends), { digits: 2 })} % off the truth.`,
    height: 340 + legendHeight(3),
    data,
    layout: {
      xaxis: axis('laps so far / number', { range: [0, laps + 0.5], zeroline: false }),
      yaxis: axis('K off the truth / %', { zeroline: false }),
      shapes: [
        levelBand([-half, half], {
          fill: TOLERANCE_BAND,
          name: 'where 95 of 100 end up at last',
        }),
        levelLine(0, { width: 2, dash: 'dot', name: 'the truth' }),
      ],
    },
  });
}
