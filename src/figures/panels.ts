/** Panels one below the other, each with axes of its own. */
import type { Annotations, LayoutAxis } from 'plotly.js';
import { INK } from './figure.js';

export interface Panels {
  /** Height of the whole figure in px. */
  readonly height: number;
  /** Names of the i-th pair of axes as a trace refers to them. */
  readonly axes: (index: number) => { readonly xaxis: string; readonly yaxis: string };
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
 */
export function stackedPanels(heights: readonly number[], gap: number, frame: number): Panels {
  const heading = 24;
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
    heading: (index, text) => ({
      text: `<b>${text}</b>`,
      xref: 'paper',
      yref: 'paper',
      x: 0,
      xanchor: 'left',
      y: domain(index)[1],
      yanchor: 'bottom',
      yshift: 3,
      showarrow: false,
      align: 'left',
      font: { size: 12, color: INK },
    }),
  };
}

/** Axes under their layout keys, typed as a part of a layout. */
export type AxisRecord = Record<string, Partial<LayoutAxis>>;
