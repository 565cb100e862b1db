import type { Data } from 'plotly.js';
import { errorBars } from '../../../figures/errorBars.js';
import {
  axis,
  type Figure,
  figureOf,
  legendHeight,
  wavelengthStyle,
} from '../../../figures/figure.js';
import { axesOf, type Panels, stackedPanels } from '../../../figures/panels.js';
import { formatNumber } from '../../../findings/formatNumber.js';
import type { RangeFigures } from '../pairs.js';

const R_TICKS = [0, 0.5, 0.9, 0.99, 0.999, 0.9999];

/** A mean of repetitions, and where 95 of 100 lie. */
type Repeated = Pick<RangeFigures['r'], 'mean' | 'most'>;

/** Correlation and limits of agreement of the same two meters over ranges of different width. */
export function rangeFigure(studies: readonly RangeFigures[]): Figure {
  const panels = stackedPanels([190, 190], 64, 78 + legendHeight(2));
  const names = studies.map(({ range_mW: [low, high] }) => `${low} to ${high}`);
  // r against 1 − r on a logarithmic scale: else all that is near one lies on one another.
  const missing = studies.map(({ r: { mean, most } }): Repeated => {
    return { mean: 1 - mean, most: [1 - most[1], 1 - most[0]] };
  });
  const widths = studies.map((one) => one.width);
  const words = studies.map(
    ({ r, width }, i) =>
      `${names[i]} mW: correlation ${formatNumber(r.mean, { digits: 3 })}, limits ${formatNumber(width.mean, { digits: 3 })} % apart.`,
  );
  return figureOf({
    title: 'The same meters over wider and wider ranges',
    alt: `Bars hold 95 of 100 repetitions. ${words.join(' ')}`,
    height: panels.height,
    data: [
      trace(panels, 0, 'correlation', names, missing),
      trace(panels, 1, 'width of the limits; bars: 95 of 100', names, widths),
    ],
    layout: {
      ...axesOf(panels, 2, (index) => [
        axis(['power of the sources / mW', 4], { type: 'category', showgrid: false }),
        index === 0 ? correlationAxis(missing) : axis(['width / %', 6], { rangemode: 'tozero' }),
      ]),
      annotations: [
        panels.heading(0, 'Correlation'),
        panels.heading(1, 'From lower to upper limit of agreement'),
      ],
    },
  });
}

function correlationAxis(missing: readonly Repeated[]) {
  const furthest = Math.max(...missing.map((one) => one.most[1]), 0.5);
  const nearest = Math.min(...missing.map((one) => one.most[0]));
  return axis(['correlation r', 6], {
    type: 'log',
    range: [Math.log10(furthest) + 0.1, Math.log10(nearest) - 0.1],
    tickvals: R_TICKS.map((r) => 1 - r),
    ticktext: R_TICKS.map(String),
  });
}

function trace(
  panels: Panels,
  place: 0 | 1,
  name: string,
  names: readonly string[],
  values: readonly Repeated[],
): Data {
  const { symbol, colour } = wavelengthStyle(place);
  const spreads = values.map(({ mean, most }) => ({ value: mean, low: most[0], high: most[1] }));
  return {
    type: 'scatter',
    mode: 'markers',
    ...panels.axes(place),
    name,
    x: [...names],
    y: values.map((one) => one.mean),
    marker: { symbol, color: colour, size: 10 },
    error_y: errorBars(spreads, { colour, thickness: 1.3 }),
    hoverinfo: 'y',
  };
}
