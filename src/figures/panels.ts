/** Panels one below the other, each with axes of its own. */
import type { Annotations, LayoutAxis } from 'plotly.js';
import { note } from './figure.js';
import type { AxisNames } from './shapes.js';

export interface Panels {
  /** Height of the whole figure in px. */
  readonly height: number;
  /** Names of the i-th pair of axes as a trace refers to them. */
  readonly axes: (index: number) => AxisNames;
  /** `xaxis3`: where the layout keeps the i-th axis. */
  readonly key: (axis: 'x' | 'y', index: number) => string;
  /** Part of the height that the i-th panel takes, bottom and top as fractions. */
  readonly domain: (index: number) => [number, number];
  /** A panel's heading, above it on the left. */
  readonly heading: (index: number, text: string) => Partial<Annotations>;
}

/**
 * Places panels of given heights under each other.
 *
 * @param heights of the panels' plotting areas in px
 * @param gap px between two panels, for tick labels and the heading
 * @param frame px above the first and below the last panel
 * @param heading px of the first panel's heading, and of what else stands above it
 */
export function stackedPanels(
  heights: readonly number[],
  gap: number,
  frame: number,
  heading = 24,
): Panels {
  const total = heights.reduce((sum, height) => sum + height + gap, heading - gap);
  const tops = heights.map(
    (_, i) => heading + heights.slice(0, i).reduce((sum, height) => sum + height + gap, 0),
  );
  const name = (axis: string, index: number) => (index === 0 ? axis : `${axis}${index + 1}`);
  const domain = (index: number): [number, number] => [
    Math.max(0, 1 - (tops[index] + heights[index]) / total),
    1 - tops[index] / total,
  ];
  return {
    height: Math.round(total + frame),
    axes: (index) => ({ xaxis: name('x', index), yaxis: name('y', index) }),
    key: (axis, index) => name(`${axis}axis`, index),
    domain,
    heading: (index, text) =>
      note(`<b>${text}</b>`, {
        xref: 'paper',
        yref: 'paper',
        x: 0,
        xanchor: 'left',
        y: domain(index)[1],
        yanchor: 'bottom',
        yshift: 3,
        align: 'left',
      }),
  };
}

export interface Grid extends Omit<Panels, 'heading'> {
  readonly headings: readonly Partial<Annotations>[];
  /** What the upright scale of all panels shows, set above the first where it can be read level. */
  readonly scaleTitle: (text: string) => Partial<Annotations>;
  /** Part of the width that the i-th panel takes. */
  readonly across: (index: number) => [number, number];
  readonly isFirstInRow: (index: number) => boolean;
  readonly isLastInColumn: (index: number) => boolean;
}

/** Heading of a small multiple: what stands out, and what follows it. */
export type GridHeading = readonly [strong: string, plain: string];

/** Columns of small multiples: two fit on a phone. */
const COLUMNS = 2;
const BETWEEN = 0.03;
/** Characters that stand above a panel on a phone; a longer heading takes two lines, and then all do. */
const HEADING = 20;
const LINE = 15;

/**
 * Small multiples, row by row.
 *
 * @param height of each plotting area in px
 * @param gap px between two rows, a heading of one line included
 * @param frame px above the first and below the last row
 */
export function gridPanels(
  headings: readonly GridHeading[],
  height: number,
  gap: number,
  frame: number,
): Grid {
  const count = headings.length;
  const columns = Math.min(COLUMNS, Math.max(1, count));
  const rows = Array.from({ length: Math.ceil(count / columns) }, () => height);
  const long = headings.some(([strong, plain]) => strong.length + plain.length >= HEADING);
  const more = long ? LINE : 0;
  const stack = stackedPanels(rows, gap + more, frame, 46 + more);
  const row = (index: number) => Math.floor(index / columns);
  const width = (1 - (columns - 1) * BETWEEN) / columns;
  const across = (index: number): [number, number] => {
    const left = (index % columns) * (width + BETWEEN);
    return [left, Math.min(1, left + width)];
  };
  return {
    ...stack,
    domain: (index) => stack.domain(row(index)),
    headings: headings.map(([strong, plain], index) => ({
      ...stack.heading(row(index), ''),
      text: `<b>${strong}</b>${long ? '<br>' : ' '}${plain}`,
      x: across(index)[0],
    })),
    scaleTitle: (text) => ({ ...stack.heading(0, ''), text, yshift: 24 + more }),
    across,
    isFirstInRow: (index) => index % columns === 0,
    isLastInColumn: (index) => index + columns >= count,
  };
}

/**
 * The axes of small multiples on one scale: ticks stand at the left and below each column only.
 *
 * @param x @param y what all panels share, titles included
 */
export function gridAxes(
  grid: Grid,
  count: number,
  x: Partial<LayoutAxis>,
  y: Partial<LayoutAxis>,
): AxisRecord {
  const { title, ...plain } = x;
  return axesOf(grid, count, (index) => {
    const last = grid.isLastInColumn(index);
    const own = { ...plain, ...(last && title !== undefined ? { title } : {}) };
    return [
      { ...own, domain: grid.across(index), showticklabels: last, automargin: false },
      { ...y, showticklabels: grid.isFirstInRow(index), automargin: false },
    ];
  });
}

/** Both axes of each panel in its place. */
export function axesOf(
  panels: Pick<Panels, 'axes' | 'key' | 'domain'>,
  count: number,
  of: (index: number) => readonly [x: Partial<LayoutAxis>, y: Partial<LayoutAxis>],
): AxisRecord {
  const each = Array.from({ length: count }, (_, index) => {
    const { xaxis, yaxis } = panels.axes(index);
    const [x, y] = of(index);
    return [
      [panels.key('x', index), { ...x, anchor: yaxis as 'y' }],
      [panels.key('y', index), { ...y, anchor: xaxis as 'x', domain: panels.domain(index) }],
    ];
  });
  return Object.fromEntries(each.flat());
}

/** Axes under their layout keys, typed as a part of a layout. */
export type AxisRecord = Record<string, Partial<LayoutAxis>>;
