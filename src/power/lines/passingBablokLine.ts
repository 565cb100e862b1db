import { median } from 'simple-statistics';
import { argumentWrong } from '../../error.js';
import { normalQuantile } from '../../statistics/distributions.js';
import { CONFIDENCE, requireOptions } from '../../statistics/options.js';
import { inversions, slopeRanks } from '../../statistics/slopeRanks.js';
import { sortedPlaces } from '../../statistics/sortedPlaces.js';
import type { Interval } from '../../vocabulary.js';
import { type Line, type LinePoints, requirePoints } from './line.js';
import { middleSlope, orderLine } from './order.js';

export interface CusumLinearity {
  /** Largest absolute cumulative sum of the scores. */
  readonly largest: number;
  /** `largest` in the unit of Kolmogorov's distribution. */
  readonly statistic: number | null;
  /** Probability of a larger statistic when the relation is a straight line. */
  readonly p: number | null;
  readonly why: string;
}

export interface PassingBablokLine extends Line {
  /** Slopes that entered: pairs of points that do not coincide and whose slope is not −1. */
  readonly pairs: number;
  /** Slopes below −1, by which the median is shifted. */
  readonly shift: number;
  readonly linearity: CusumLinearity;
}

/**
 * Passing and Bablok's line: the shifted median of the slopes of all pairs. It treats x and y alike,
 * assumes no distribution and is not moved by a minority of wild readings. For two meters that show
 * the same quantity in the same unit: the slope must be positive and near 1.
 *
 * @param points x and y, at least three points
 * @param options `confidence` as a fraction (default 0.95)
 * @returns the line with intervals of intercept and slope (no standard uncertainties) and the cusum
 *   check of linearity; `residual_sd` is 1.4826 × the median absolute residual
 * @throws argument-wrong, too-few-values
 * Source: H. Passing, W. Bablok (1983), J. Clin. Chem. Clin. Biochem. 21, 709–720; the scaling of the
 * cusum from memory.
 */
export function passingBablokLine(
  points: LinePoints,
  options: { readonly confidence?: number } = {},
): PassingBablokLine {
  const { confidence = 0.95 } = requireOptions(options, { confidence: CONFIDENCE });
  requirePoints(points, 3);
  const { x, y } = points;
  const n = x.length;
  const { total, shift, at } = shiftedSlopes(x, y);
  const slope = total === 0 ? Number.NaN : middleSlope(at, total);
  if (!(slope > 0) || !Number.isFinite(slope)) {
    throw argumentWrong(
      'A Passing–Bablok line is for two meters that rise together.',
      `${total} usable pairs, slope ${slope}`,
      'a finite positive slope',
    );
  }
  const line = (b: number) => median(y.map((value, i) => value - b * x[i]));
  const intercept = line(slope);
  const residuals = y.map((value, i) => value - intercept - slope * x[i]);
  const interval = slopeInterval(at, total, n, confidence);
  return {
    ...orderLine({
      method: 'passing-bablok',
      intercept,
      intercept_interval: interval === null ? null : [line(interval[1]), line(interval[0])],
      slope,
      slope_interval: interval,
      confidence,
      residuals,
      why:
        interval === null
          ? `${n} points do not bound the slope at ${100 * confidence} % confidence; the method gives no standard uncertainties.`
          : 'The method gives no standard uncertainties.',
    }),
    pairs: total,
    shift,
    linearity: cusumLinearity(points, slope, residuals),
  };
}

/**
 * The slopes of all pairs in the order of the method, which begins above −1 and runs through infinity to
 * below −1: that is the plain order of the slopes of y − x against x + y. −1 itself is left out by the
 * method, coinciding points have no slope, and an upright pair may count at either end.
 */
function shiftedSlopes(x: readonly number[], y: readonly number[]) {
  // Far above the rounding of a difference, which the unit decides, far below a display's step.
  const alike =
    1e-10 * x.reduce((most, value, i) => Math.max(most, Math.abs(value), Math.abs(y[i])), 0);
  const sums = x.map((value, i) => value + y[i]);
  let start = Number.NEGATIVE_INFINITY;
  for (const i of sortedPlaces(sums)) {
    if (sums[i] - start <= alike) sums[i] = start;
    else start = sums[i];
  }
  const ranked = slopeRanks(
    sums,
    y.map((value, i) => value - x[i]),
  );
  // Below −1 the sum falls where x rises.
  const byX = sortedPlaces(x, sortedPlaces(sums));
  return {
    total: ranked.total,
    shift: inversions(Float64Array.from(byX, (i) => sums[i])).count,
    at: (rank: number): number => {
      const [a, b] = ranked.at(rank);
      return x[a] === x[b] ? Number.POSITIVE_INFINITY : (y[b] - y[a]) / (x[b] - x[a]);
    },
  };
}

function slopeInterval(
  at: (rank: number) => number,
  total: number,
  n: number,
  confidence: number,
): Interval | null {
  const c = normalQuantile(0.5 + confidence / 2) * Math.sqrt((n * (n - 1) * (2 * n + 5)) / 18);
  const lower = Math.round((total - c) / 2);
  const upper = total - lower + 1;
  if (lower < 1) return null;
  const low = at(lower);
  const high = at(upper);
  // A limit past infinity (a steep negative slope in the shifted order) leaves the slope unbounded.
  return Number.isFinite(low) && Number.isFinite(high) && low <= high ? [low, high] : null;
}

function cusumLinearity(
  points: LinePoints,
  slope: number,
  residuals: readonly number[],
): CusumLinearity {
  const size = points.y.reduce(
    (most, y, i) => Math.max(most, Math.abs(y), Math.abs(slope * points.x[i])),
    0,
  );
  const sign = residuals.map((e) => (Math.abs(e) <= 1e-12 * size ? 0 : Math.sign(e)));
  const above = sign.filter((s) => s > 0).length;
  const below = sign.filter((s) => s < 0).length;
  if (above === 0 || below === 0) {
    return {
      largest: 0,
      statistic: null,
      p: null,
      why: 'No points on both sides of the line: nothing speaks against a straight one.',
    };
  }
  const along = points.y.map((y, i) => y + points.x[i] / slope);
  let sum = 0;
  let largest = 0;
  for (const i of sortedPlaces(along)) {
    if (sign[i] > 0) sum += Math.sqrt(below / above);
    if (sign[i] < 0) sum -= Math.sqrt(above / below);
    largest = Math.max(largest, Math.abs(sum));
  }
  const statistic = largest / Math.sqrt(below + 1);
  return { largest, statistic, p: kolmogorovTail(statistic), why: '' };
}

/** P(K > h) of Kolmogorov's limiting distribution (1933): 1.22, 1.36, 1.63 for 10, 5 and 1 %. */
function kolmogorovTail(h: number): number {
  if (h < 0.2) return 1;
  let sum = 0;
  for (let k = 1; k <= 100; k++) sum += (k % 2 === 1 ? 2 : -2) * Math.exp(-2 * (k * h) ** 2);
  return Math.min(1, Math.max(0, sum));
}
