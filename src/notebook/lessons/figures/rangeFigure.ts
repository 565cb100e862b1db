import type { Data, Layout } from 'plotly.js';
import {
  AXIS,
  baseLayout,
  CONFIG,
  type Figure,
  legendHeight,
  wavelengthStyle,
} from '../../../figures/figure.js';
import { type AxisRecord, stackedPanels } from '../../../figures/panels.js';
import { formatNumber } from '../../../findings/formatNumber.js';
import type { RangeFigures } from '../pairs.js';

const R_TICKS = [0, 0.5, 0.9, 0.99, 0.999, 0.9999];

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
  const missing = studies.map(({ r: { mean, most } }) => ({
    mean: 1 - mean,
    most: [1 - most[1], 1 - most[0]] as const,
  }));
  const furthest = Math.max(...missing.map((one) => one.most[1]), 0.5);
  const nearest = Math.min(...missing.map((one) => one.most[0]));
  const axes: AxisRecord = {
    xaxis: axis('y'),
    yaxis: {
      ...AXIS,
      anchor: 'x',
      domain: panels.domain(0),
      // r against 1 − r on a logarithmic scale: else all that is near one lies on one another.
      type: 'log',
      range: [Math.log10(furthest) + 0.1, Math.log10(nearest) - 0.1],
      tickvals: R_TICKS.map((r) => 1 - r),
      ticktext: R_TICKS.map(String),
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
  const trace = (
    place: 0 | 1,
    name: string,
    values: readonly Pick<RangeFigures['r'], 'mean' | 'most'>[],
  ): Data => {
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
      trace(0, 'correlation', missing),
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
