/** Points against wavelength with their intervals, as one trace. */

export interface IntervalPoint {
  readonly nm: number;
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** What is shown beside the pointer. */
  readonly text: string;
}

export interface PointStyle {
  readonly symbol: 'circle-open' | 'diamond' | 'x-open';
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
    error_y: {
      type: 'data' as const,
      symmetric: false,
      array: points.map((point) => point.high - point.value),
      arrayminus: points.map((point) => point.value - point.low),
      color: style.colour,
      thickness: style.thickness,
      width: 5,
    },
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
