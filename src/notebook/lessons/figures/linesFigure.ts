import type { Data, LayoutAxis, Shape } from 'plotly.js';
import { errorBars } from '../../../figures/errorBars.js';
import {
  axis,
  type Figure,
  figureOf,
  INK,
  legendHeight,
  plainText,
  wavelengthStyle,
} from '../../../figures/figure.js';

/** One quantity against another. */
export interface PlottedLine {
  readonly name: string;
  readonly x: readonly number[];
  readonly y: readonly number[];
  /** Bars up and down from each point. */
  readonly bars?: { readonly up: readonly number[]; readonly down: readonly number[] };
  /** `line`: no marks; `points`: no line; default both. */
  readonly as?: 'line' | 'points';
  /** Thick and in ink: what all the others add up to, or ought to be. */
  readonly main?: boolean;
  /** What the pointer is told, point by point. */
  readonly hover?: readonly string[];
}

/** Quantity and unit of an axis, and what it has of its own. */
export type TitledAxis = readonly [title: string, own?: Partial<LayoutAxis>];

/** An axis without a line at zero. */
export const titledAxis = ([title, own]: TitledAxis) => axis(title, { zeroline: false, ...own });

export interface LinesFigure {
  readonly title: string;
  readonly alt: string;
  readonly x: TitledAxis;
  readonly y: TitledAxis;
  readonly lines: readonly PlottedLine[];
  readonly shapes?: readonly Partial<Shape>[];
}

/** Lines and points in one panel: told apart by shape, dash and lightness as well as by colour. */
export function linesFigure({ title, alt, x, y, lines, shapes = [] }: LinesFigure): Figure {
  const data = lines.map((line, index): Data => {
    const style = wavelengthStyle(index);
    const colour = line.main ? INK : style.colour;
    const mode = { line: 'lines', points: 'markers', both: 'lines+markers' } as const;
    return {
      type: 'scatter',
      mode: mode[line.as ?? 'both'],
      name: plainText(line.name),
      x: [...line.x],
      y: [...line.y],
      line: {
        color: colour,
        width: line.main ? 3 : 1.6,
        dash: line.main || index === 0 ? 'solid' : index % 2 === 1 ? 'dash' : 'dashdot',
      },
      marker: { symbol: style.symbol, color: colour, size: line.main ? 4 : 9 },
      ...(line.bars === undefined
        ? {}
        : {
            error_y: errorBars(spreadsOf(line.y, line.bars), { colour, thickness: 1.3, width: 4 }),
          }),
      ...(line.hover === undefined
        ? { hoverinfo: 'x+y' }
        : { hoverinfo: 'text', hovertext: [...line.hover] }),
    };
  });
  const named = shapes.filter((shape) => shape.showlegend).length;
  return figureOf({
    title,
    alt,
    height: 320 + legendHeight(data.length + named),
    data,
    layout: { xaxis: titledAxis(x), yaxis: titledAxis(y), shapes: [...shapes] },
  });
}

const spreadsOf = (y: readonly number[], { up, down }: NonNullable<PlottedLine['bars']>) =>
  y.map((value, i) => ({ value, low: value - down[i], high: value + up[i] }));
