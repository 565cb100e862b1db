import type { Shape } from 'plotly.js';
import { formatNumber } from '../findings/formatNumber.js';
import { INK, TOLERANCE_BAND } from './figure.js';

/** What lies within the tolerance, on an axis in percent, with its name in the legend. */
export function toleranceBand(percent: number): Partial<Shape> {
  return {
    type: 'rect',
    layer: 'below',
    yref: 'paper',
    y0: 0,
    y1: 1,
    x0: -percent,
    x1: percent,
    fillcolor: TOLERANCE_BAND,
    line: { width: 1, color: INK, dash: 'dot' },
    showlegend: true,
    name: `tolerance, ± ${formatNumber(percent)} %`,
  };
}
