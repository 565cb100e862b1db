import { coverageFactorOf } from '../../statistics/distributions.js';
import { leastSquares } from '../../statistics/leastSquares.js';
import { CONFIDENCE, requireOptions } from '../../statistics/options.js';
import { twoSidedP } from '../../statistics/student.js';
import { extremes } from '../../statistics/summary.js';
import type { Interval } from '../../vocabulary.js';
import { type MeterReadings, requireReadings } from './gainOrGainAndOffset.js';

export interface Curvature {
  readonly verdict: 'reads-low-at-the-top' | 'reads-high-at-the-top' | 'not-shown';
  /**
   * How far the candidate's reading at the highest power departs from what its gain at low power
   * would give, in percent; negative: it reads low there.
   */
  readonly at_top_percent: number | null;
  /** Fieller's interval of `at_top_percent`; `null`: see `why`. */
  readonly interval_percent: Interval | null;
  /** Test of the quadratic term against 0, two-sided; `null` when the readings fit exactly. */
  readonly t: number | null;
  readonly p: number | null;
  readonly dof: number;
  /** Highest reference reading: the top of the range that was looked at. */
  readonly top_mW: number;
  readonly offset_included: boolean;
  readonly why: string;
}

/**
 * Does the candidate bend at the top of the range? A heat sink that warms reads low at high power.
 * Fits candidate ÷ reference = gain + bend · reference (+ offset ÷ reference), that is a parabola
 * with noise that grows with the reading.
 *
 * @param readings pairs at several powers (one pair a series), in mW and above 0
 * @param options `offset`: also lets an offset explain the readings (default true; without it a zero
 *   offset looks like a bend); `confidence` (default 0.95)
 * @returns size of the bend at the highest power with its interval and test. Noise of the reference
 *   counts as noise of the ratio, which is right while both are a few percent
 * @throws reading-not-positive, argument-wrong, too-few-values (four pairs at three powers with
 *   the offset, three pairs at two powers without)
 * Source: polynomial least squares: any textbook; interval of a ratio: E. C. Fieller (1954).
 */
export function curvature(
  readings: MeterReadings,
  options: { readonly offset?: boolean; readonly confidence?: number } = {},
): Curvature {
  const { offset = true, confidence = 0.95 } = requireOptions(options, {
    offset: { maybe: 'yes-or-no' },
    confidence: CONFIDENCE,
  });
  requireReadings(readings, offset ? 4 : 3);
  const reference = readings.reference_mW;
  const ratio = readings.candidate_mW.map((value, i) => value / reference[i]);
  const [low, top] = extremes(reference);
  const fit = leastSquares(
    reference.map((p) => (offset ? [1, p / top, low / p] : [1, p / top])),
    ratio,
  );
  const [gain, bend] = fit.coefficients;
  const variance = fit.residualSumOfSquares / fit.dof;
  const bendSd = Math.sqrt(variance * fit.unscaledCovariance[1][1]);
  // Residuals at the rounding level say nothing about noise.
  const exact = Math.sqrt(variance) <= 1e-13 * Math.abs(gain);
  const t = exact ? null : bend / bendSd;
  const p = t === null ? null : twoSidedP(t, fit.dof);
  const k = coverageFactorOf(confidence, fit.dof);
  const interval = fiellerRatio(bend, gain, {
    numerator: variance * fit.unscaledCovariance[1][1],
    denominator: variance * fit.unscaledCovariance[0][0],
    covariance: variance * fit.unscaledCovariance[0][1],
    k,
  });
  const shown = p === null ? Math.abs(bend) > 1e-9 * Math.abs(gain) : p < 1 - confidence;
  const percent = gain === 0 ? null : (100 * bend) / gain;
  return {
    verdict: !shown ? 'not-shown' : bend < 0 ? 'reads-low-at-the-top' : 'reads-high-at-the-top',
    at_top_percent: percent,
    interval_percent: interval === null ? null : [100 * interval[0], 100 * interval[1]],
    t,
    p,
    dof: fit.dof,
    top_mW: top,
    offset_included: offset,
    why:
      interval === null
        ? 'The gain at low power cannot be told from zero, so the bend has no bounds in percent.'
        : shown
          ? 'The readings do not follow a straight line.'
          : 'No bend is shown; one within the interval is not excluded.',
  };
}

function fiellerRatio(
  a: number,
  b: number,
  v: {
    readonly numerator: number;
    readonly denominator: number;
    readonly covariance: number;
    readonly k: number;
  },
): Interval | null {
  const k2 = v.k ** 2;
  const q2 = b ** 2 - k2 * v.denominator;
  if (!(q2 > 0)) return null;
  const q1 = a * b - k2 * v.covariance;
  const root = Math.sqrt(Math.max(0, q1 ** 2 - q2 * (a ** 2 - k2 * v.numerator)));
  return [(q1 - root) / q2, (q1 + root) / q2];
}
