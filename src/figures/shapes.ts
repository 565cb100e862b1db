/** Lines and bands that lie behind the marks. */
import type { Dash, Shape } from 'plotly.js';
import { INK } from './figure.js';

interface LineStyle {
  readonly width?: number;
  readonly dash?: Dash;
  readonly colour?: string;
  /** In the legend; none: it has no entry. */
  readonly name?: string | undefined;
}

interface BandStyle {
  readonly fill: string;
  /** Dotted and grey where none is given. */
  readonly edge?: Partial<Shape['line']>;
  readonly name: string;
}

const ACROSS = { layer: 'below', xref: 'paper', x0: 0, x1: 1 } as const;
const UPRIGHT = { layer: 'below', yref: 'paper', y0: 0, y1: 1 } as const;

const GREY_EDGE = { width: 1, color: '#8b949e', dash: 'dot' } as const;

const inLegend = (name: string | undefined) =>
  name === undefined ? {} : { showlegend: true, name };

const lineOf = ({ width = 1, dash, colour = INK, name }: LineStyle) => ({
  type: 'line' as const,
  line: { color: colour, width, ...(dash === undefined ? {} : { dash }) },
  ...inLegend(name),
});

const bandOf = ({ fill, edge, name }: BandStyle) => ({
  type: 'rect' as const,
  fillcolor: fill,
  line: edge ?? GREY_EDGE,
  ...inLegend(name),
});

/** Over the whole width at one height. */
export function levelLine(y: number, style: LineStyle): Partial<Shape> {
  return { ...ACROSS, y0: y, y1: y, ...lineOf(style) };
}

/** Over the whole height. */
export function uprightLine(x: number, style: LineStyle): Partial<Shape> {
  return { ...UPRIGHT, x0: x, x1: x, ...lineOf(style) };
}

/** Over the whole width between two heights. */
export function levelBand([y0, y1]: readonly number[], style: BandStyle): Partial<Shape> {
  return { ...ACROSS, y0, y1, ...bandOf(style) };
}

/** Over the whole height between two places. */
export function uprightBand([x0, x1]: readonly number[], style: BandStyle): Partial<Shape> {
  return { ...UPRIGHT, x0, x1, ...bandOf(style) };
}

/** A band over the width of each panel; the first stands in the legend for all. */
export function panelBands(
  bands: readonly { readonly axes: AxisNames; readonly ends: readonly number[] }[],
  style: BandStyle,
): Partial<Shape>[] {
  return bands.map(({ axes, ends }, i) => {
    const { showlegend, name, ...band } = levelBand(ends, style);
    const place = { xref: `${axes.xaxis} domain` as 'paper', yref: axes.yaxis as 'y' };
    return { ...band, ...place, ...(i === 0 ? { showlegend, name } : {}) };
  });
}

/** The axes of a panel, as its traces and shapes refer to them. */
export interface AxisNames {
  readonly xaxis: string;
  readonly yaxis: string;
}
