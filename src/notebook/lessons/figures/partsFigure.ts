import type { Figure } from '../../../figures/figure.js';
import { formatNumber } from '../../../findings/formatNumber.js';
import { linesFigure } from './linesFigure.js';

/** A contribution for one lap, and whether laps make it smaller. */
export interface LapPart {
  readonly name: string;
  /** Relative standard uncertainty with one lap. */
  readonly u: number;
  /** True: divided by the square root of the number of laps. */
  readonly averages: boolean;
}

/** A contribution after so many laps, relative. */
export function partAfter(part: LapPart, laps: number): number {
  return part.averages ? part.u / Math.sqrt(laps) : part.u;
}

/** All of them together after so many laps: squares add. JCGM 100:2008, 5.1.2. */
export function togetherAfter(parts: readonly LapPart[], laps: number): number {
  return Math.hypot(...parts.map((part) => partAfter(part, laps)));
}

const LAPS = [1, 2, 3, 5, 7, 10, 15, 20, 30, 50, 70, 100];

const UNITS = [0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10];

/** Each contribution and all together against the number of laps, both axes logarithmic. */
export function partsFigure(parts: readonly LapPart[]): Figure {
  const lines = [
    ...parts.map((part) => ({ name: part.name, at: (laps: number) => partAfter(part, laps) })),
    { name: 'all together', at: (laps: number) => togetherAfter(parts, laps), main: true },
  ];
  const ends = LAPS.flatMap((laps) => lines.map(({ at }) => 100 * at(laps)));
  const ticks = [1, 2, 5, 10, 20, 50, 100];
  const percent = (value: number) => formatNumber(value, { as: 'percent', digits: 2 });
  return linesFigure({
    title: 'Each contribution against laps',
    alt: lines
      .map(
        ({ name, at }) => `${name}: ${percent(at(1))} with one lap, ${percent(at(100))} with 100.`,
      )
      .join(' '),
    x: [
      'laps / number',
      { type: 'log', tickvals: ticks, ticktext: ticks.map(String), range: [-0.05, 2.05] },
    ],
    y: [
      'standard uncertainty / %',
      {
        type: 'log',
        range: [Math.log10(Math.min(...ends)) - 0.1, Math.log10(Math.max(...ends)) + 0.1],
        tickvals: UNITS,
        ticktext: UNITS.map(String),
      },
    ],
    lines: lines.map(({ at, ...line }) => ({
      ...line,
      x: LAPS,
      y: LAPS.map((laps) => 100 * at(laps)),
    })),
  });
}
