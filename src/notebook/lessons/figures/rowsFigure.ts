import type { Data, Shape } from 'plotly.js';
import { errorBars } from '../../../figures/errorBars.js';
import {
  axis,
  type Figure,
  figureOf,
  legendHeight,
  wavelengthStyle,
  wrappedText,
} from '../../../figures/figure.js';
import { marks as marksTrace } from '../../../figures/marks.js';
import { type TitledAxis, titledAxis } from './linesFigure.js';

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
  readonly x: TitledAxis;
  readonly line: Partial<Shape>;
}

const ROW = 56;

/** Named rows, in each a mark of every kind with its bars, and a line that says what ought to be. */
export function rowsFigure({ title, alt, rows, marks, x, line }: RowsFigure): Figure {
  const place = (row: number, kind: number) =>
    row + 1 + (0.62 / marks.length) * (kind - (marks.length - 1) / 2);
  const data = marks.map((mark, kind): Data => {
    const { symbol, colour } = wavelengthStyle(kind);
    const points = mark.x.map((x, row) => ({ x, y: place(row, kind), text: mark.hover[row] }));
    const spreads = mark.x.map((value, row) => {
      const [low, high] = mark.bars[row] ?? [value, value];
      return { value, low, high };
    });
    const error_x = errorBars(spreads, { colour, thickness: 1.2, width: 4 });
    return marksTrace(mark.name, points, { symbol, colour, size: 10 }, { error_x });
  });
  const thick = marks.flatMap((mark, kind) =>
    (mark.thick ?? []).map(([x0, x1], row): Partial<Shape> => {
      const y = place(row, kind);
      const line = { color: wavelengthStyle(kind).colour, width: 5 };
      return { type: 'line', x0, x1, y0: y, y1: y, line };
    }),
  );
  return figureOf({
    title,
    alt,
    height: 96 + ROW * rows.length + legendHeight(marks.length + 1),
    data,
    layout: {
      xaxis: titledAxis(x),
      yaxis: axis(null, {
        range: [rows.length + 0.58, 0.42],
        tickmode: 'array',
        tickvals: rows.map((_, row) => row + 1),
        ticktext: rows.map((name) => wrappedText(name, 16)),
        showgrid: false,
        zeroline: false,
      }),
      shapes: [line, ...thick],
    },
  });
}
