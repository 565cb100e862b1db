import { median } from 'simple-statistics';
import { argumentWrong } from '../../error.js';
import { normalQuantile } from '../../statistics/distributions.js';
import { CONFIDENCE, requireOptions } from '../../statistics/options.js';
import { slopeRanks } from '../../statistics/slopeRanks.js';
import type { Interval } from '../../vocabulary.js';
import { type Line, type LinePoints, requirePoints } from './line.js';
import { middleSlope, orderLine, tieGroups } from './order.js';

export interface TheilSenLine extends Line {
  /** Pairs of points with different x: the slopes whose median is taken. */
  readonly pairs: number;
  /** `exact`: from Kendall's distribution; `normal`: from its approximation; `none`: see `why`. */
  readonly interval_kind: 'exact' | 'normal' | 'none';
  /** Confidence that the interval really has; an exact one comes in steps and is never below. */
  readonly interval_confidence: number | null;
}

/** Above this many points the exact distribution of Kendall's statistic is left for the normal. */
const MOST_POINTS_EXACT = 60;

/**
 * Theil and Sen's line: the median of the slopes of all pairs of points. A minority of wild readings
 * does not move it. x counts as exact.
 *
 * @param points x and y, at least two points
 * @param options `intercept`: `joint` (median of y − slope·x, default) or `separate` (median of y −
 *   slope · median of x); `interval`: `exact`, `normal` or `auto` (default: exact up to 60 points
 *   without ties, else normal); `confidence` as a fraction (default 0.95)
 * @returns the line with Sen's interval for the slope; there is none for the intercept and no
 *   standard uncertainty. `residual_sd` is 1.4826 × the median absolute residual
 * @throws argument-wrong (also for an exact interval with ties), too-few-values
 * Source: H. Theil (1950); P. K. Sen (1968), J. Am. Stat. Assoc. 63, 1379–1389, sections 3 and 4
 * (with the variance for ties).
 */
export function theilSenLine(
  points: LinePoints,
  options: {
    readonly intercept?: 'joint' | 'separate';
    readonly interval?: 'auto' | 'exact' | 'normal';
    readonly confidence?: number;
  } = {},
): TheilSenLine {
  const { interval = 'auto', confidence = 0.95 } = requireOptions(options, {
    intercept: { maybe: ['joint', 'separate'] },
    interval: { maybe: ['auto', 'exact', 'normal'] },
    confidence: CONFIDENCE,
  });
  requirePoints(points, 2);
  const { x, y } = points;
  const n = x.length;
  const ranked = slopeRanks(x, y);
  const at = (rank: number) => {
    const [a, b] = ranked.at(rank);
    return (y[b] - y[a]) / (x[b] - x[a]);
  };
  const { total } = ranked;
  const slope = middleSlope(at, total);
  const rests = y.map((value, i) => value - slope * x[i]);
  const intercept =
    options.intercept === 'separate' ? median(y) - slope * median(x) : median(rests);
  const residuals = rests.map((value) => value - intercept);

  const tied = [...tieGroups(x), ...tieGroups(y)];
  const exact = isExact(n, tied, interval);
  const found = exact
    ? exactInterval(at, total, n, confidence)
    : normalInterval(at, total, { n, tied }, confidence);
  const noInterval =
    found === null
      ? `${n} points are too few for a slope interval of ${100 * confidence} % confidence. `
      : '';
  return {
    ...orderLine({
      method: 'theil-sen',
      intercept,
      intercept_interval: null,
      slope,
      slope_interval: found?.interval ?? null,
      confidence,
      residuals,
      why: `${noInterval}The method gives no interval for the intercept and no standard uncertainties.`,
    }),
    pairs: total,
    interval_kind: found === null ? 'none' : exact ? 'exact' : 'normal',
    interval_confidence: found?.confidence ?? null,
  };
}

/** Whether the interval comes from Kendall's own distribution. */
function isExact(n: number, tied: readonly number[], wanted: 'auto' | 'exact' | 'normal'): boolean {
  const ties = tied.length > 0;
  if (wanted === 'exact' && ties) {
    throw argumentWrong(
      'The exact interval of a Theil–Sen slope holds only without ties.',
      undefined,
      "interval 'normal' or 'auto'",
    );
  }
  return wanted === 'exact' || (wanted === 'auto' && !ties && n <= MOST_POINTS_EXACT);
}

function normalInterval(
  at: (rank: number) => number,
  total: number,
  { n, tied }: { readonly n: number; readonly tied: readonly number[] },
  confidence: number,
): { readonly interval: Interval; readonly confidence: number } | null {
  const part = (k: number) => k * (k - 1) * (2 * k + 5);
  const variance = tied.reduce((rest, k) => rest - part(k), part(n)) / 18;
  if (!(variance > 0)) return null;
  const c = normalQuantile(0.5 + confidence / 2) * Math.sqrt(variance);
  // Ranks of the 1st to last slope; rounded to the nearest, as is usual for the approximation.
  const lower = Math.round((total - c) / 2);
  const upper = Math.round((total + c) / 2) + 1;
  if (lower < 1 || upper > total) return null;
  return { interval: [at(lower), at(upper)], confidence };
}

/**
 * The number of discordant pairs under independence has a known distribution (Kendall 1938): the
 * interval leaves out as many slopes at each end as that distribution allows.
 */
function exactInterval(
  at: (rank: number) => number,
  total: number,
  n: number,
  confidence: number,
): { readonly interval: Interval; readonly confidence: number } | null {
  let probabilities = [1];
  for (let k = 2; k <= n; k++) {
    const next = new Array<number>((k * (k - 1)) / 2 + 1).fill(0);
    for (let d = 0; d < next.length; d++) {
      for (let shift = 0; shift < k; shift++) next[d] += (probabilities[d - shift] ?? 0) / k;
    }
    probabilities = next;
  }
  let cut = 0;
  let tail = 0;
  while (tail + probabilities[cut] <= (1 - confidence) / 2) tail += probabilities[cut++];
  if (cut < 1) return null;
  return {
    interval: [at(cut), at(total - cut + 1)],
    confidence: 1 - 2 * tail,
  };
}
