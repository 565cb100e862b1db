import type { Data, Layout } from 'plotly.js';
import {
  AXIS,
  baseLayout,
  CONFIG,
  type Figure,
  legendHeight,
  wavelengthStyle,
} from '../../figures/figure.js';
import { type AxisRecord, stackedPanels } from '../../figures/panels.js';
import { formatNumber } from '../../findings/formatNumber.js';
import type { RangeFigures } from './rangeStudy.js';

/** Correlation and limits of agreement of the same two meters over ranges of different width. */
export function rangeFigure(studies: readonly RangeFigures[]): Figure {
  const panels = stackedPanels([190, 190], 64, 78 + legendHeight(2));
  const names = studies.map(({ range_mW: [low, high] }) => `${low} to ${high}`);
  const axis = (anchor: 'y' | 'y2') => ({
    ...AXIS,
    type: 'category' as const,
    anchor,
    title: { text: 'power of the sources / mW', standoff: 4 },
    showgrid: false,
  });
  const axes: AxisRecord = {
    xaxis: axis('y'),
    yaxis: {
      ...AXIS,
      anchor: 'x',
      domain: panels.domain(0),
      range: [0, 1.05],
      title: { text: 'correlation r', standoff: 6 },
    },
    xaxis2: axis('y2'),
    yaxis2: {
      ...AXIS,
      anchor: 'x2',
      domain: panels.domain(1),
      rangemode: 'tozero',
      title: { text: 'width / %', standoff: 6 },
    },
  };
  const trace = (place: 0 | 1, name: string, values: readonly RangeFigures['r'][]): Data => {
    const style = wavelengthStyle(place);
    return {
      type: 'scatter',
      mode: 'markers',
      ...panels.axes(place),
      name,
      x: names,
      y: values.map((one) => one.mean),
      marker: { symbol: style.symbol, color: style.colour, size: 10 },
      error_y: {
        type: 'data',
        symmetric: false,
        array: values.map((one) => one.most[1] - one.mean),
        arrayminus: values.map((one) => one.mean - one.most[0]),
        color: style.colour,
        thickness: 1.3,
        width: 5,
      },
      hoverinfo: 'y',
    };
  };
  const layout: Partial<Layout> = {
    ...baseLayout(panels.height),
    ...axes,
    annotations: [
      panels.heading(0, 'Correlation'),
      panels.heading(1, 'From lower to upper limit of agreement'),
    ],
  };
  return {
    title: 'The same meters over wider and wider ranges',
    alt: `Bars hold 95 of 100 repetitions. ${studies
      .map(
        ({ r, width }, i) =>
          `${names[i]} mW: correlation ${formatNumber(r.mean, { digits: 3 })}, limits ${formatNumber(width.mean, { digits: 3 })} % apart.`,
      )
      .join(' ')}`,
    data: [
      trace(
        0,
        'correlation',
        studies.map((one) => one.r),
      ),
      trace(
        1,
        'width of the limits; bars: 95 of 100',
        studies.map((one) => one.width),
      ),
    ],
    layout,
    config: CONFIG,
  };
}
