import { studentQuantile } from '../statistics/distributions.js';
import { requireOptions } from '../statistics/options.js';
import { requireTrace, type TraceReadings } from './readTrace.js';

export interface Overshoot {
  /** `null` when the trace is too short to tell. */
  readonly overshoots: boolean | null;
  /** How far the reading stood above the later course, in percent of it; `null`: see `why`. */
  readonly excess_percent: number | null;
  readonly at_s: number | null;
  readonly why: string;
}

/**
 * Did the reading first rise above the level to which it then falls back? A meter that anticipates
 * (a lead circuit) does, and so does a source that droops fast at switch-on; a first-order response
 * cannot. A slow straight droop does not count.
 *
 * @param trace readings of one run from switch-on, in mW
 * @param options `resolution_mW`: step of the display (default 0)
 * @returns whether, how far and when. It counts above 0.5 % and beyond chance (0.1 % for the whole
 *   trace), against a straight line through the last third
 * @throws argument-wrong
 * Source: own test; prediction interval of a line, Bonferroni over the readings (any textbook).
 */
export function detectOvershoot(
  trace: TraceReadings,
  options: { readonly resolution_mW?: number } = {},
): Overshoot {
  requireOptions(options, { resolution_mW: { maybe: 'not-negative' } });
  requireTrace(trace);
  return overshootOf(trace, options.resolution_mW ?? 0);
}

/** The same of what is already checked. */
export function overshootOf(trace: TraceReadings, resolution: number): Overshoot {
  const t = trace.elapsed_s;
  const y = trace.reading_mW;
  const n = t.length;
  const first = n - Math.floor(n / 3);
  if (n < 12) {
    return {
      overshoots: null,
      excess_percent: null,
      at_s: null,
      why: 'Fewer than 12 readings do not show an overshoot.',
    };
  }
  const { level, slope, middle, spread, squares } = lineThrough(t, y, first);
  const variance = Math.max(squares / (n - first - 2), resolution ** 2 / 12);
  let at = -1;
  let excess = Number.NEGATIVE_INFINITY;
  for (let i = 1; i < first; i++) {
    // The middle of three, so that a single wild reading is no overshoot.
    const above = middleOf(y[i - 1], y[i], y[i + 1]) - (level + slope * (t[i] - middle));
    if (above > excess) {
      excess = above;
      at = i;
    }
  }
  const lineVariance = 1 / (n - first) + (t[at] - middle) ** 2 / spread;
  // The median of three normal readings has 0.449 of their variance (any table of order statistics).
  const sd = Math.sqrt(variance * (0.449 + lineVariance));
  const limit = studentQuantile(1 - 0.001 / first, n - first - 2) * sd;
  const course = level + slope * (t[at] - middle);
  if (!(course > 0)) {
    return {
      overshoots: false,
      excess_percent: null,
      at_s: null,
      why: 'The later course is not above 0.',
    };
  }
  const overshoots = excess > limit && excess > 0.005 * course;
  return {
    overshoots,
    excess_percent: overshoots ? (100 * excess) / course : null,
    at_s: overshoots ? t[at] : null,
    why: overshoots
      ? 'The reading rose above its later course: a meter that anticipates, or a source that droops fast at switch-on. A first-order response holds for neither.'
      : 'No overshoot beyond noise.',
  };
}

/** The straight line through the readings from the place `first` on, about the middle of their times. */
function lineThrough(t: readonly number[], y: readonly number[], first: number) {
  const count = t.length - first;
  let middle = 0;
  for (let i = first; i < t.length; i++) middle += t[i] / count;
  let [spread, level, slope, squares] = [0, 0, 0, 0];
  for (let i = first; i < t.length; i++) {
    level += y[i] / count;
    spread += (t[i] - middle) ** 2;
    slope += (t[i] - middle) * y[i];
  }
  slope = spread > 0 ? slope / spread : 0;
  for (let i = first; i < t.length; i++) squares += (y[i] - level - slope * (t[i] - middle)) ** 2;
  return { level, slope, middle, spread, squares };
}

const middleOf = (a: number, b: number, c: number): number =>
  Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
