import type { Data } from 'plotly.js';
import { errorBars } from '../../../figures/errorBars.js';
import {
  axis,
  CANDIDATE_COLOUR,
  type Figure,
  figureOf,
  legendHeight,
  REFERENCE_COLOUR,
} from '../../../figures/figure.js';
import { type MarkStyle, marks } from '../../../figures/marks.js';
import { uprightLine } from '../../../figures/shapes.js';
import { holds } from '../counts.js';
import type { Estimate } from '../estimates.js';

/** Intervals one below the other, and the truth that they should hold. */
export function intervalsFigure(estimates: readonly Estimate[], truth: number): Figure {
  const numbered = estimates.map((one, i) => ({ ...one, line: i + 1 }));
  const good = numbered.filter((one) => holds(one, truth));
  const bad = numbered.filter((one) => !holds(one, truth));
  const data = [
    trace(`holds the truth: ${good.length} of ${estimates.length}`, good, {
      symbol: 'circle',
      size: 6,
      colour: REFERENCE_COLOUR,
      thickness: 1.3,
    }),
    trace(`misses it: ${bad.length}`, bad, {
      symbol: 'x',
      size: 9,
      colour: CANDIDATE_COLOUR,
      thickness: 3.2,
    }),
  ];
  return figureOf({
    title: 'Intervals of the same comparison, repeated',
    alt: `${estimates.length} intervals; ${good.length} hold the truth, ${bad.length} miss it.`,
    height: 90 + 11 * estimates.length + legendHeight(3),
    data,
    layout: {
      xaxis: axis('factor K = reference ÷ candidate', { zeroline: false, nticks: 6 }),
      yaxis: axis('repetition / number', {
        range: [estimates.length + 1, 0],
        showgrid: false,
        zeroline: false,
      }),
      shapes: [uprightLine(truth, { width: 2, dash: 'dot', name: 'the truth' })],
    },
  });
}

function trace(
  name: string,
  list: readonly (Estimate & { readonly line: number })[],
  style: MarkStyle & { readonly colour: string; readonly thickness: number },
): Data {
  const points = list.map(({ value, line }) => ({ x: value, y: line }));
  const error_x = errorBars(list, { ...style, width: 0 });
  // A kind of which there is none stands in the legend all the same.
  const place = list.length === 0 ? { x: [null], y: [null] } : {};
  const { hovertext, ...drawn } = marks(name, points, style, { error_x, hoverinfo: 'x' });
  return { ...drawn, ...place };
}
