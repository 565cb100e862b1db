import type { Data, Layout } from 'plotly.js';
import {
  AXIS,
  baseLayout,
  CONFIG,
  type Figure,
  legendHeight,
  wavelengthStyle,
  wrappedText,
} from '../../figures/figure.js';
import { formatInterval, formatNumber } from '../../findings/formatNumber.js';
import { errorsOf } from './errorsOf.js';
import type { Estimate } from './lapEstimate.js';
import { uprightLine } from './uprightLine.js';

/** Estimates of one factor under one name, by one or more ways of computing it. */
export interface EstimateGroup {
  readonly name: string;
  readonly ways: readonly { readonly name: string; readonly estimates: readonly Estimate[] }[];
}

const ROW = 62;

/**
 * How far from the truth do estimates land? A row a group, in it a mark for each way: the mean
 * error, a thick bar for the middle half of all, a thin one for the middle 95 %.
 *
 * @param truth the factor that the bench hides
 */
export function errorsFigure(groups: readonly EstimateGroup[], truth: number): Figure {
  const names = groups[0]?.ways.map((way) => way.name) ?? [];
  const cells = groups.flatMap((group, row) =>
    group.ways.map((way, place) => ({
      group: group.name,
      way: way.name,
      place,
      y: row + 1 + 0.34 * (place - (group.ways.length - 1) / 2),
      errors: errorsOf(way.estimates, truth),
    })),
  );
  const data: Data[] = names.map((name, place): Data => {
    const style = wavelengthStyle(place);
    const mine = cells.filter((cell) => cell.place === place);
    return {
      type: 'scatter',
      mode: 'markers',
      name,
      x: mine.map(({ errors }) => errors.mean),
      y: mine.map(({ y }) => y),
      marker: { symbol: style.symbol, color: style.colour, size: 10 },
      error_x: {
        type: 'data',
        symmetric: false,
        array: mine.map(({ errors }) => errors.most[1] - errors.mean),
        arrayminus: mine.map(({ errors }) => errors.mean - errors.most[0]),
        color: style.colour,
        thickness: 1.2,
        width: 4,
      },
      hoverinfo: 'text',
      hovertext: mine.map(({ errors }) => `mean ${formatNumber(errors.mean, { digits: 2 })} %`),
    };
  });
  const layout: Partial<Layout> = {
    ...baseLayout(96 + ROW * groups.length + legendHeight(names.length + 1)),
    xaxis: { ...AXIS, title: { text: 'K off the truth / %', standoff: 8 }, zeroline: false },
    yaxis: {
      ...AXIS,
      range: [groups.length + 0.55, 0.45],
      tickmode: 'array',
      tickvals: groups.map((_, i) => i + 1),
      ticktext: groups.map((group) => wrappedText(group.name, 12)),
      showgrid: false,
      zeroline: false,
    },
    shapes: [
      uprightLine(0, 'the truth; bars: 95 and 50 of 100', 1.6),
      ...cells.map(({ y, place, errors }) => ({
        type: 'line' as const,
        x0: errors.middleHalf[0],
        x1: errors.middleHalf[1],
        y0: y,
        y1: y,
        line: { color: wavelengthStyle(place).colour, width: 5 },
      })),
    ],
  };
  return {
    title: 'How far from the truth estimates land',
    alt: cells
      .map(
        ({ group, way, errors }) =>
          `${group}, ${way}: mean error ${formatNumber(errors.mean, { digits: 2 })} %, middle 95 % ${formatInterval(...errors.most)} %.`,
      )
      .join(' '),
    data,
    layout,
    config: CONFIG,
  };
}
