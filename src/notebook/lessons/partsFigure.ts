import type { Data, Layout } from 'plotly.js';
import {
  AXIS,
  baseLayout,
  CONFIG,
  type Figure,
  INK,
  legendHeight,
  plainText,
  wavelengthStyle,
} from '../../figures/figure.js';
import { formatNumber } from '../../findings/formatNumber.js';

/** A contribution for one lap, and whether laps make it smaller. */
export interface LapPart {
  readonly name: string;
  /** Relative standard uncertainty with one lap. */
  readonly u: number;
  /** True: divided by the square root of the number of laps. */
  readonly averages: boolean;
}

/** A contribution after so many laps, relative. */
export function partAfter(part: LapPart, laps: number): number {
  return part.averages ? part.u / Math.sqrt(laps) : part.u;
}

/** All of them together after so many laps: squares add. JCGM 100:2008, 5.1.2. */
export function togetherAfter(parts: readonly LapPart[], laps: number): number {
  return Math.hypot(...parts.map((part) => partAfter(part, laps)));
}

const LAPS = [1, 2, 3, 5, 7, 10, 15, 20, 30, 50, 70, 100];

/** Each contribution and all together against the number of laps, both axes logarithmic. */
export function partsFigure(parts: readonly LapPart[]): Figure {
  const lines = [
    ...parts.map((part) => ({ name: part.name, at: (laps: number) => partAfter(part, laps) })),
    { name: 'all together', at: (laps: number) => togetherAfter(parts, laps) },
  ];
  const data: Data[] = lines.map(({ name, at }, index) => {
    const sum = index === lines.length - 1;
    const style = wavelengthStyle(index);
    const colour = sum ? INK : style.colour;
    return {
      type: 'scatter',
      mode: 'lines+markers',
      name: plainText(name),
      x: LAPS,
      y: LAPS.map((laps) => 100 * at(laps)),
      line: { color: colour, width: sum ? 3 : 1.5, dash: sum || index === 0 ? 'solid' : 'dash' },
      marker: { symbol: style.symbol, color: colour, size: sum ? 4 : 8 },
      hoverinfo: 'x+y',
    };
  });
  const ends = LAPS.flatMap((laps) => lines.map(({ at }) => 100 * at(laps)));
  const layout: Partial<Layout> = {
    ...baseLayout(320 + legendHeight(data.length)),
    xaxis: {
      ...AXIS,
      type: 'log',
      title: { text: 'laps / number', standoff: 8 },
      tickvals: [1, 2, 5, 10, 20, 50, 100],
      ticktext: ['1', '2', '5', '10', '20', '50', '100'],
      range: [-0.05, 2.05],
    },
    yaxis: {
      ...AXIS,
      type: 'log',
      title: { text: 'standard uncertainty / %', standoff: 8 },
      range: [Math.log10(Math.min(...ends)) - 0.1, Math.log10(Math.max(...ends)) + 0.1],
      tickvals: [0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10],
      ticktext: ['0.05', '0.1', '0.2', '0.5', '1', '2', '5', '10'],
    },
  };
  return {
    title: 'What laps make smaller, and what they do not',
    alt: lines
      .map(
        ({ name, at }) =>
          `${name}: ${formatNumber(at(1), { as: 'percent', digits: 2 })} with one lap, ${formatNumber(at(100), { as: 'percent', digits: 2 })} with 100.`,
      )
      .join(' '),
    data,
    layout,
    config: CONFIG,
  };
}
