import type { Shape } from 'plotly.js';
import { INK } from '../../figures/figure.js';

/** A dotted line over the whole height that says what ought to be, with its name in the legend. */
export function uprightLine(x: number, name: string, width = 2): Partial<Shape> {
  return {
    type: 'line',
    layer: 'below',
    yref: 'paper',
    y0: 0,
    y1: 1,
    x0: x,
    x1: x,
    line: { color: INK, width, dash: 'dot' },
    showlegend: true,
    name,
  };
}
