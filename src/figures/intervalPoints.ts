/** Points against wavelength with their intervals, as one trace. */
import { errorBars, type Spread } from './errorBars.js';

export interface IntervalPoint extends Spread {
  readonly nm: number;
  /** What is shown beside the pointer. */
  readonly text: string;
}

export interface PointStyle {
  readonly symbol: 'circle-open' | 'diamond' | 'diamond-open' | 'x-open';
  readonly colour: string;
  readonly size: number;
  readonly thickness: number;
}

export function intervalPoints(points: readonly IntervalPoint[], name: string, style: PointStyle) {
  return {
    type: 'scatter' as const,
    mode: 'markers' as const,
    name,
    x: points.map((point) => point.nm),
    y: points.map((point) => point.value),
    error_y: errorBars(points, style),
    marker: {
      symbol: style.symbol,
      color: style.colour,
      size: style.size,
      line: { width: 1.6, color: style.colour },
    },
    hoverinfo: 'text' as const,
    hovertext: points.map((point) => point.text),
  };
}
