import type { Figure } from '../../../figures/figure.js';
import { levelLine } from '../../../figures/shapes.js';
import { type CoverageLine, PROMISED } from '../counts.js';
import { ofHundred } from '../told.js';
import { linesFigure } from './linesFigure.js';

/** Share of intervals that hold the truth against the number of laps, and what they promise. */
export function coverageFigure(lines: readonly CoverageLine[]): Figure {
  const all = lines.flatMap((line) => line.points.map(({ coverage }) => coverage.fraction));
  const lowest = Math.min(...all, PROMISED);
  const words = lines.map(
    ({ name, points }) =>
      `${name}: ${points.map(({ laps, coverage }) => `${laps} laps ${ofHundred(coverage)}`).join(', ')}.`,
  );
  return linesFigure({
    title: 'How often intervals hold the truth, against laps',
    alt: `Of a hundred intervals hold the truth: ${words.join(' ')} Promised ${100 * PROMISED} %.`,
    x: ['laps / number', { rangemode: 'tozero' }],
    y: [
      'intervals that hold the truth / %',
      { range: [Math.max(0, Math.floor(20 * lowest - 0.8) * 5), 101] },
    ],
    lines: lines.map(({ name, points }) => {
      const bars = points.map(({ coverage }) => 200 * coverage.standardUncertainty);
      return {
        name,
        x: points.map(({ laps }) => laps),
        y: points.map(({ coverage }) => 100 * coverage.fraction),
        bars: { up: bars, down: bars },
        hover: points.map(
          ({ laps, coverage }) => `${laps} laps: ${coverage.held} of ${coverage.times}`,
        ),
      };
    }),
    shapes: [
      levelLine(100 * PROMISED, { width: 1.8, dash: 'dot', name: `promised: ${100 * PROMISED} %` }),
    ],
  });
}
