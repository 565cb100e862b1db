import type { Shape } from 'plotly.js';
import { INK } from '../../../figures/figure.js';

const dotted = (name: string, width: number) =>
  ({
    type: 'line',
    layer: 'below',
    line: { color: INK, width, dash: 'dot' },
    showlegend: true,
    name,
  }) as const;

/** A dotted line over the whole height that says what ought to be, with its name in the legend. */
export function uprightLine(x: number, name: string, width = 2): Partial<Shape> {
  return { ...dotted(name, width), yref: 'paper', y0: 0, y1: 1, x0: x, x1: x };
}

/** The same over the whole width. */
export function levelLine(y: number, name: string, width = 2): Partial<Shape> {
  return { ...dotted(name, width), xref: 'paper', x0: 0, x1: 1, y0: y, y1: y };
}
