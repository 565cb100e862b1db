import { argumentWrong } from '../error.js';
import { bracketedRoot } from '../statistics/bracketedRoot.js';
import { normalQuantile } from '../statistics/distributions.js';
import { requireConfidence } from '../statistics/options.js';
import { requireShape } from '../statistics/shapes.js';
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
 * @param scale about the standard deviation of X, in units of `unit`
 * @param oneHump whether the density falls on both sides of the middle
 */
export function symmetricDistribution(
  tail: ((x: number) => number) | null,
  scale: number,
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
    requireShape(p, 'A probability', 'fraction');
    if (tail === null || p === 0.5) return 0;
    const q = Math.min(p, 1 - p);
    const size = unit * whereTailIs(tail, q, -scale * normalQuantile(q));
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

/** The x ≥ 0 with Q(x) = q, looked for around a guess above zero. */
function whereTailIs(tail: (x: number) => number, q: number, guess: number): number {
  const over = (x: number): number => tail(x) - q;
  const outwards = over(guess) > 0;
  let [near, far] = [guess, guess];
  for (let factor = 1.2; over(far) > 0 === outwards; factor *= factor) {
    near = far;
    far = outwards ? far * factor : far / factor;
  }
  return bracketedRoot(over, near, far);
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
