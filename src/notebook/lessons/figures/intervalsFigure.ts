import type { Data, Layout } from 'plotly.js';
import {
  AXIS,
  baseLayout,
  CANDIDATE_COLOUR,
  CONFIG,
  type Figure,
  legendHeight,
  REFERENCE_COLOUR,
} from '../../../figures/figure.js';
import { holds } from '../counts.js';
import type { Estimate } from '../estimates.js';
import { uprightLine } from './straightLines.js';

/** Intervals one below the other, and the truth that they should hold. */
export function intervalsFigure(estimates: readonly Estimate[], truth: number): Figure {
  const numbered = estimates.map((one, i) => ({ ...one, line: i + 1 }));
  const good = numbered.filter((one) => holds(one, truth));
  const bad = numbered.filter((one) => !holds(one, truth));
  const data: Data[] = [
    trace(`holds the truth: ${good.length} of ${estimates.length}`, good, {
      symbol: 'circle',
      colour: REFERENCE_COLOUR,
      thickness: 1.3,
    }),
    trace(`misses it: ${bad.length}`, bad, {
      symbol: 'x',
      colour: CANDIDATE_COLOUR,
      thickness: 3.2,
    }),
  ];
  const layout: Partial<Layout> = {
    ...baseLayout(90 + 11 * estimates.length + legendHeight(3)),
    xaxis: {
      ...AXIS,
      title: { text: 'factor K = reference ÷ candidate', standoff: 8 },
      zeroline: false,
      nticks: 6,
    },
    yaxis: {
      ...AXIS,
      range: [estimates.length + 1, 0],
      title: { text: 'repetition / number', standoff: 8 },
      showgrid: false,
      zeroline: false,
    },
    shapes: [uprightLine(truth, 'the truth')],
  };
  return {
    title: 'Intervals of the same comparison, repeated',
    alt: `${estimates.length} intervals; ${good.length} hold the truth, ${bad.length} miss it.`,
    data,
    layout,
    config: CONFIG,
  };
}

function trace(
  name: string,
  list: readonly (Estimate & { readonly line: number })[],
  style: { readonly symbol: 'circle' | 'x'; readonly colour: string; readonly thickness: number },
): Data {
  return {
    type: 'scatter',
    mode: 'markers',
    name,
    x: list.length === 0 ? [null] : list.map((one) => one.value),
    y: list.length === 0 ? [null] : list.map((one) => one.line),
    marker: { symbol: style.symbol, color: style.colour, size: style.symbol === 'x' ? 9 : 6 },
    error_x: {
      type: 'data',
      symmetric: false,
      array: list.map((one) => one.high - one.value),
      arrayminus: list.map((one) => one.value - one.low),
      color: style.colour,
      thickness: style.thickness,
      width: 0,
    },
    hoverinfo: 'x',
  };
}
