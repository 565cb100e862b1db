import { studentQuantile } from '../statistics/distributions.js';
import { leastSquares } from '../statistics/leastSquares.js';
import { requireOptions } from '../statistics/options.js';
import { requireNotNegative, requireTrace, type TraceReadings } from './readTrace.js';

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
  requireOptions(options, { resolution_mW: true });
  requireTrace(trace);
  const resolution = options.resolution_mW ?? 0;
  requireNotNegative(resolution, 'A resolution');
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
  const middle = t.slice(first).reduce((sum, value) => sum + value, 0) / (n - first);
  const fit = leastSquares(
    t.slice(first).map((value) => [1, value - middle]),
    y.slice(first),
  );
  const [level, slope] = fit.coefficients;
  const variance = Math.max(fit.residualSumOfSquares / fit.dof, resolution ** 2 / 12);
  let at = -1;
  let excess = Number.NEGATIVE_INFINITY;
  for (let i = 1; i < first; i++) {
    // The middle of three, so that a single wild reading is no overshoot.
    const three = [y[i - 1], y[i], y[i + 1]].sort((a, b) => a - b)[1];
    const above = three - (level + slope * (t[i] - middle));
    if (above > excess) {
      excess = above;
      at = i;
    }
  }
  const lineVariance =
    fit.unscaledCovariance[0][0] + (t[at] - middle) ** 2 * fit.unscaledCovariance[1][1];
  // The median of three normal readings has 0.449 of their variance (any table of order statistics).
  const sd = Math.sqrt(variance * (0.449 + lineVariance));
  const limit = studentQuantile(1 - 0.001 / first, fit.dof) * sd;
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
