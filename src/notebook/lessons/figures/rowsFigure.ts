import type { Data, Layout, LayoutAxis, Shape } from 'plotly.js';
import {
  AXIS,
  baseLayout,
  CONFIG,
  type Figure,
  legendHeight,
  wavelengthStyle,
  wrappedText,
} from '../../../figures/figure.js';

/** One kind of mark, with a place in each row. */
export interface RowMarks {
  readonly name: string;
  readonly x: readonly number[];
  /** Ends of the thin bar around each mark. */
  readonly bars: readonly (readonly [low: number, high: number])[];
  /** Ends of a thick bar around each mark. */
  readonly thick?: readonly (readonly [low: number, high: number])[];
  readonly hover: readonly string[];
}

export interface RowsFigure {
  readonly title: string;
  readonly alt: string;
  readonly rows: readonly string[];
  readonly marks: readonly RowMarks[];
  readonly x: Partial<LayoutAxis> & { readonly title: { readonly text: string } };
  readonly line: Partial<Shape>;
}

const ROW = 56;

/** Named rows, in each a mark of every kind with its bars, and a line that says what ought to be. */
export function rowsFigure({ title, alt, rows, marks, x, line }: RowsFigure): Figure {
  const place = (row: number, kind: number) =>
    row + 1 + (0.62 / marks.length) * (kind - (marks.length - 1) / 2);
  const data = marks.map((mark, kind): Data => {
    const { symbol, colour } = wavelengthStyle(kind);
    return {
      type: 'scatter',
      mode: 'markers',
      name: mark.name,
      x: [...mark.x],
      y: rows.map((_, row) => place(row, kind)),
      marker: { symbol, color: colour, size: 10 },
      error_x: {
        type: 'data',
        symmetric: false,
        array: mark.x.map((at, row) => (mark.bars[row]?.[1] ?? at) - at),
        arrayminus: mark.x.map((at, row) => at - (mark.bars[row]?.[0] ?? at)),
        color: colour,
        thickness: 1.2,
        width: 4,
      },
      hoverinfo: 'text',
      hovertext: [...mark.hover],
    };
  });
  const thick = marks.flatMap((mark, kind) =>
    (mark.thick ?? []).map(([x0, x1], row): Partial<Shape> => {
      const y = place(row, kind);
      return {
        type: 'line',
        x0,
        x1,
        y0: y,
        y1: y,
        line: { color: wavelengthStyle(kind).colour, width: 5 },
      };
    }),
  );
  const layout: Partial<Layout> = {
    ...baseLayout(96 + ROW * rows.length + legendHeight(marks.length + 1)),
    xaxis: { ...AXIS, zeroline: false, ...x, title: { ...x.title, standoff: 8 } },
    yaxis: {
      ...AXIS,
      range: [rows.length + 0.58, 0.42],
      tickmode: 'array',
      tickvals: rows.map((_, row) => row + 1),
      ticktext: rows.map((name) => wrappedText(name, 16)),
      showgrid: false,
      zeroline: false,
    },
    shapes: [line, ...thick],
  };
  return { title, alt, data, layout, config: CONFIG };
}
