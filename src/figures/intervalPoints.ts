/** Points against wavelength with their intervals, as one trace. */
import { errorBars, type Spread } from './errorBars.js';
import { type MarkStyle, type MarksTrace, marks } from './marks.js';

export interface IntervalPoint extends Spread {
  readonly nm: number;
  /** What is shown beside the pointer. */
  readonly text: string;
}

export function intervalPoints(
  points: readonly IntervalPoint[],
  name: string,
  style: Omit<MarkStyle, 'rim'> & { readonly thickness: number },
): MarksTrace {
  const places = points.map(({ nm, value, text }) => ({ x: nm, y: value, text }));
  return marks(name, places, { ...style, rim: 1.6 }, { error_y: errorBars(points, style) });
}
