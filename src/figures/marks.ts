/** Marks of one kind, as one trace. */
import type { MarkerSymbol, ScatterData } from 'plotly.js';

export interface Mark {
  readonly x: number;
  /** `null` is not drawn. */
  readonly y: number | null;
  /** What the pointer is told. */
  readonly text?: string;
}

export interface MarkStyle {
  readonly symbol: MarkerSymbol | MarkerSymbol[];
  readonly colour: string;
  readonly size: number;
  /** Width of the outline in px; none where it is left out. */
  readonly rim?: number;
}

export type MarksTrace = Partial<ScatterData> & { x: number[]; y: (number | null)[] };

/** @param own what this trace has besides, or otherwise */
export function marks(
  name: string,
  list: readonly Mark[],
  { symbol, colour, size, rim }: MarkStyle,
  own: Partial<ScatterData> = {},
): MarksTrace {
  return {
    type: 'scatter',
    mode: 'markers',
    name,
    x: list.map(({ x }) => x),
    y: list.map(({ y }) => y),
    marker: {
      symbol,
      color: colour,
      size,
      ...(rim === undefined ? {} : { line: { width: rim, color: colour } }),
    },
    hoverinfo: 'text',
    hovertext: list.map(({ text = '' }) => text),
    ...own,
  } as MarksTrace;
}

/** A trace without a mark would stand in the legend for nothing. */
export function drawn(traces: readonly MarksTrace[]): MarksTrace[] {
  return traces.filter(({ x }) => x.length > 0);
}
