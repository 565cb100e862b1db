import type { Data, Layout } from 'plotly.js';
import {
  AXIS,
  baseLayout,
  CONFIG,
  type Figure,
  INK,
  legendHeight,
  wavelengthStyle,
} from '../../figures/figure.js';
import { formatNumber } from '../../findings/formatNumber.js';
import type { Coverage } from './coverageOf.js';

/** How often one kind of interval held the truth, for several numbers of laps. */
export interface CoverageLine {
  readonly name: string;
  readonly points: readonly { readonly laps: number; readonly coverage: Coverage }[];
}

/** Share of intervals that hold the truth against the number of laps, and what they promise. */
export function coverageFigure(lines: readonly CoverageLine[], confidence = 0.95): Figure {
  const promised = formatNumber(confidence, { as: 'percent', digits: 3 });
  const lowest = Math.min(
    ...lines.flatMap((line) => line.points.map(({ coverage }) => coverage.fraction)),
    confidence,
  );
  const data: Data[] = lines.map(({ name, points }, index) => {
    const style = wavelengthStyle(index);
    return {
      type: 'scatter',
      mode: 'lines+markers',
      name,
      x: points.map(({ laps }) => laps),
      y: points.map(({ coverage }) => 100 * coverage.fraction),
      line: { color: style.colour, width: 1.5, dash: index % 2 === 0 ? 'solid' : 'dash' },
      marker: { symbol: style.symbol, color: style.colour, size: 9 },
      error_y: {
        type: 'data',
        array: points.map(({ coverage }) => 200 * coverage.standardUncertainty),
        color: style.colour,
        thickness: 1.2,
        width: 4,
      },
      hoverinfo: 'text',
      hovertext: points.map(
        ({ laps, coverage }) => `${laps} laps: ${coverage.held} of ${coverage.times}`,
      ),
    };
  });
  const layout: Partial<Layout> = {
    ...baseLayout(320 + legendHeight(data.length + 1)),
    xaxis: {
      ...AXIS,
      title: { text: 'laps / number', standoff: 8 },
      rangemode: 'tozero',
      zeroline: false,
    },
    yaxis: {
      ...AXIS,
      title: { text: 'intervals that hold the truth / %', standoff: 8 },
      range: [Math.max(0, Math.floor(20 * lowest - 0.8) * 5), 101],
      zeroline: false,
    },
    shapes: [
      {
        type: 'line',
        layer: 'below',
        xref: 'paper',
        x0: 0,
        x1: 1,
        y0: 100 * confidence,
        y1: 100 * confidence,
        line: { color: INK, width: 1.8, dash: 'dot' },
        showlegend: true,
        name: `promised: ${promised}`,
      },
    ],
  };
  return {
    title: 'How often intervals hold the truth, against laps',
    alt: `${lines
      .map(
        ({ name, points }) =>
          `${name}: ${points.map(({ laps, coverage }) => `${laps} laps ${formatNumber(coverage.fraction, { as: 'percent', digits: 3 })}`).join(', ')}.`,
      )
      .join(' ')} Promised ${promised}.`,
    data,
    layout,
    config: CONFIG,
  };
}
