import { argumentWrong } from '../error.js';
import { requireConfidence } from '../statistics/options.js';
import type { Interval } from '../vocabulary.js';

/** Distribution of a sum; the functions are deterministic and draw nothing. */
export interface ExactDistribution {
  /** P(sum ≤ x). @throws argument-wrong unless x is a number */
  cdf(x: number): number;
  /** @throws argument-wrong for p outside (0, 1) */
  quantile(p: number): number;
  /** As much probability below as above: from −h to h. @throws argument-wrong */
  coverageInterval(confidence: number): Interval;
  /**
   * The same as `coverageInterval` unless an arcsine takes part: all other sums have one hump in
   * the middle. Of two mirrored intervals the lower one. @throws argument-wrong
   */
  shortestInterval(confidence: number): Interval;
}

/** Left out on either side where a shortest interval would otherwise reach to infinity. */
const FAR = 1e-9;

/**
 * The questions that may be asked of a distribution symmetric about zero.
 *
 * @param tail Q(x) = P(X > x) for x ≥ 0, in units of `unit`; `null`: all of it at zero
 * @param end a first guess of where Q ends
 * @param oneHump whether the density falls on both sides of the middle
 */
export function symmetricDistribution(
  tail: ((x: number) => number) | null,
  end: number,
  unit: number,
  oneHump: boolean,
): ExactDistribution {
  const cdf = (x: number): number => {
    if (Number.isNaN(x)) throw argumentWrong('The place in a distribution must be a number.', x);
    if (tail === null) return x < 0 ? 0 : 1;
    if (x === 0) return 0.5;
    const upper = Math.min(0.5, Math.max(0, tail(Math.abs(x) / unit)));
    return x > 0 ? 1 - upper : upper;
  };
  const quantile = (p: number): number => {
    if (!(p > 0 && p < 1)) throw argumentWrong('A probability must lie between 0 and 1.', p);
    if (tail === null || p === 0.5) return 0;
    const size = unit * whereTailIs(tail, Math.min(p, 1 - p), end);
    return p < 0.5 ? -size : size;
  };
  const coverageInterval = (confidence: number): Interval => {
    requireConfidence(confidence);
    // Not 0.5 + confidence / 2, which loses digits of what is left outside.
    const low = quantile((1 - confidence) / 2);
    return [low, low === 0 ? 0 : -low];
  };
  return {
    cdf,
    quantile,
    coverageInterval,
    shortestInterval: (confidence) =>
      oneHump ? coverageInterval(confidence) : shortest(quantile, confidence),
  };
}

/** The x ≥ 0 with Q(x) = q, by halving. */
function whereTailIs(tail: (x: number) => number, q: number, end: number): number {
  let low = 0;
  let high = end;
  while (tail(high) > q) {
    low = high;
    high *= 2;
  }
  for (let i = 0; i < 60 && high - low > 1e-15 * high; i++) {
    const middle = (low + high) / 2;
    if (tail(middle) > q) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Scans what is left out below, from nothing to half, and refines around the best. */
function shortest(quantile: (p: number) => number, confidence: number): Interval {
  requireConfidence(confidence);
  const most = (1 - confidence) / 2;
  const at = (below: number): Interval => [
    quantile(Math.max(below, FAR)),
    quantile(Math.min(below + confidence, 1 - FAR)),
  ];
  const width = (below: number) => at(below)[1] - at(below)[0];
  let best = most;
  let step = most / 32;
  for (let i = 0; i <= 32; i++) if (width(i * step) < width(best)) best = i * step;
  for (; step > 1e-9; step /= 2) {
    for (const next of [best - step / 2, best + step / 2]) {
      if (next >= 0 && next <= most && width(next) < width(best)) best = next;
    }
  }
  return at(best);
}
