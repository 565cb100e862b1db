/** Is the candidate within tolerance, and if nobody can tell: what would settle it? */

import { argumentWrong } from '../error.js';
import {
  counted,
  formatEstimate,
  formatInterval,
  percent,
  significant,
} from '../findings/formatNumber.js';
import { coverageFactor } from '../statistics/distributions.js';
import { requireConfidence } from '../statistics/options.js';
import { requireShape } from '../statistics/shapes.js';
import {
  LEAST_LAPS,
  type SeriesFactor,
  type SeriesVerdict,
  type WavelengthVerdict,
} from '../vocabulary.js';

export interface WavelengthVerdictInput {
  /** Factor K with its interval. */
  readonly factor: number;
  readonly low: number;
  readonly high: number;
  /** The interval for a single reading, wider by what its placement and scatter add; left out: K's own. */
  readonly readingLow?: number;
  readonly readingHigh?: number;
  /** How far a reading may be off, as a fraction between 0 and 1. */
  readonly tolerance: number;
  /**
   * Relative standard deviation between series that contradict each other; `null` or left out where
   * they agree.
   */
  readonly spread?: number | null;
}

export interface WavelengthJudgement {
  readonly verdict: WavelengthVerdict;
  readonly why: string;
}

/**
 * May the candidate be used as it is, has it to be corrected, or can the data not tell?
 *
 * An uncorrected reading C is off by no more than the tolerance τ of the reference R, |C/R − 1| ≤ τ,
 * exactly when K = R/C lies in [1/(1+τ), 1/(1−τ)].
 *
 * - `within-tolerance`: the whole interval for a single reading lies in there
 * - `inconclusive`: the interval reaches further than τ·K from K, so that even a corrected reading may be
 *   off by more than the tolerance; or the series contradict each other and two of their standard
 *   deviations exceed τ, so that no one factor serves, however well the mean is known
 * - `correct-it`: the interval excludes 1 and a corrected reading serves
 * - `not-shown`: neither; the reading may be within tolerance or not
 *
 * @throws argument-wrong for a tolerance outside (0, 1) or a factor outside its interval
 *
 * Source: decision on an interval as in equivalence testing (Schuirmann 1987); the zones are ours.
 */
export function wavelengthVerdict(input: WavelengthVerdictInput): WavelengthJudgement {
  const { factor, low, high, tolerance } = input;
  requireShape(tolerance, 'A tolerance', 'fraction');
  checkInterval(factor, low, high);
  const estimate = formatEstimate(factor, low, high);
  const half = farther(factor, low, high);
  const spread = input.spread ?? 0;
  requireShape(spread, 'A spread between series', 'not-negative');
  if (half <= tolerance && 2 * spread > tolerance) {
    return {
      verdict: 'inconclusive',
      why: `The mean factor is ${estimate}, and yet no one factor serves here: from series to series K differs by a standard deviation of ${percent(spread)}, and the tolerance is ${percent(tolerance)}. Look for what changes between the series: the power, the placement, the source.`,
    };
  }
  const { readingLow = low, readingHigh = high } = input;
  if (readingLow >= 1 / (1 + tolerance) && readingHigh <= 1 / (1 - tolerance)) {
    return {
      verdict: 'within-tolerance',
      why: `An uncorrected reading is off by no more than ${percent(tolerance)}: for a single reading, placement and scatter included, K lies from ${formatInterval(readingLow, readingHigh)}, all of it within ${short(1 / (1 + tolerance))} to ${short(1 / (1 - tolerance))}.`,
    };
  }
  if (half > tolerance) {
    const off =
      low > 1 / (1 - tolerance) || high < 1 / (1 + tolerance)
        ? ' It is shown that uncorrected readings are off by more than the tolerance, but not by how much.'
        : '';
    return {
      verdict: 'inconclusive',
      why: `K is ${estimate}, known only to ± ${percent(half)}, and the tolerance is ${percent(tolerance)}.${off}`,
    };
  }
  if (low > 1 || high < 1) {
    const side = low > 1 ? 'low' : 'high';
    return {
      verdict: 'correct-it',
      why: `Uncorrected readings are ${percent(Math.abs(1 / factor - 1))} too ${side}. Multiplied by ${estimate} they serve: ± ${percent(half)} is within the tolerance of ${percent(tolerance)}.`,
    };
  }
  return {
    verdict: 'not-shown',
    why: `K lies from ${formatInterval(low, high)}: it may be 1, but readings off by more than ${percent(tolerance)} are not excluded either. The corrected reading serves, known to ± ${percent(half)}.`,
  };
}

/** Factor of the series with its interval relative to this reference, and what it is judged by. */
export interface SeriesVerdictInput extends SeriesFactor {
  /** Complete laps that were used. */
  readonly laps: number;
  /** Fraction between 0 and 1. */
  readonly tolerance: number;
  /** Confidence of the interval, 0 to 1. */
  readonly confidence: number;
  /** Relative standard deviation of single readings about the drift. */
  readonly repeatability?: { readonly reference: number | null; readonly candidate: number | null };
}

export interface SeriesJudgement {
  readonly verdict: SeriesVerdict;
  readonly further_laps: number | null;
  /** Scatter of single readings that would settle it with the present laps, fraction. */
  readonly steadiness_needed: number | null;
  readonly why: string;
}

/** No advice asks for more laps than this in one series. */
export const MOST_LAPS = 200;

/**
 * Is this series good enough to settle anything at the tolerance, and if not, what would be?
 *
 * `usable` when the interval reaches no further than tolerance × K. Otherwise the number of
 * further laps n − n₀ is the smallest for which e^(t·u·√(n₀/n)) − 1 ≤ tolerance, with Student's t
 * taken anew at the larger number of degrees of freedom (one more per lap, the cautious end of the
 * one to two that a lap brings), and the steadiness is the scatter at which the present laps would do.
 * Both assume that the scatter stays what it was.
 *
 * @throws argument-wrong for a tolerance or confidence outside (0, 1), or a value outside its interval
 *
 * Source: half-width t·s/√n of an interval for a mean (NIST/SEMATECH handbook 7.2.2.2 uses the same
 * search over n); the exponential because the interval is symmetric in ln K.
 */
export function seriesVerdict(input: SeriesVerdictInput): SeriesJudgement {
  const { value, low, high, laps, tolerance, confidence } = input;
  requireShape(tolerance, 'A tolerance', 'fraction');
  requireConfidence(confidence);
  if (value === null || low === null || high === null) {
    return undecided(
      `No interval for K can be computed from ${counted(laps, 'lap', 'laps')}; take at least ${LEAST_LAPS}.`,
    );
  }
  checkInterval(value, low, high);
  const half = farther(value, low, high);
  if (half <= tolerance) {
    return {
      verdict: 'usable',
      further_laps: null,
      steadiness_needed: null,
      why: `K is known to ± ${percent(half)} relative to this reference, within the tolerance of ${percent(tolerance)}.`,
    };
  }
  const head = `K is known only to ± ${percent(half)} relative to this reference, and the tolerance is ${percent(tolerance)}.`;
  const { relative_standard_uncertainty: u, dof } = input;
  if (u === null || dof === null || !(u > 0) || !(dof > 0) || laps < 1) {
    return undecided(`${head} What would settle it cannot be computed from so few runs.`);
  }
  const n = lapsNeeded({ u, dof, laps, tolerance, confidence });
  const target = Math.log1p(tolerance) / coverageFactor(confidence, dof);
  const scatter = scatterNow(input, u);
  const steadiness = (scatter * target) / u;
  const steady = `With the present ${laps} laps, single readings would have to scatter by no more than ${percent(steadiness)} (now about ${percent(scatter)}).`;
  return {
    verdict: 'inconclusive',
    further_laps: n === null ? null : n - laps,
    steadiness_needed: steadiness,
    why:
      n === null
        ? `${head} No number of laps up to ${MOST_LAPS} would settle it while the source scatters as it does. ${steady}`
        : `${head} About ${n - laps} further ${n - laps === 1 ? 'lap' : 'laps'} of the same kind would settle it relative to this reference; the full budget of the wavelength may ask for more. ${steady}`,
  };
}

interface LapsInput {
  readonly u: number;
  readonly dof: number;
  readonly laps: number;
  readonly tolerance: number;
  readonly confidence: number;
}

function lapsNeeded({ u, dof, laps, tolerance, confidence }: LapsInput): number | null {
  for (let n = laps + 1; n <= MOST_LAPS; n++) {
    const k = coverageFactor(confidence, dof + (n - laps));
    if (Math.expm1(k * u * Math.sqrt(laps / n)) <= tolerance) return n;
  }
  return null;
}

/** Root mean square of both meters' scatter; from u itself when the scatter was not given. */
function scatterNow(input: SeriesVerdictInput, u: number): number {
  const reference = input.repeatability?.reference ?? null;
  const candidate = input.repeatability?.candidate ?? null;
  if (reference !== null && candidate !== null && reference + candidate > 0) {
    return Math.hypot(reference, candidate) / Math.SQRT2;
  }
  return u * Math.sqrt(input.laps / 2);
}

function undecided(why: string): SeriesJudgement {
  return { verdict: 'inconclusive', further_laps: null, steadiness_needed: null, why };
}

/** U: the larger of both distances, as a fraction of the value. */
const farther = (value: number, low: number, high: number) =>
  Math.max(high / value - 1, 1 - low / value);

function checkInterval(value: number, low: number, high: number): void {
  if (![value, low, high].every(Number.isFinite) || !(low > 0) || value < low || value > high) {
    throw argumentWrong(
      'A factor must lie within an interval above 0.',
      `${value} in [${low}, ${high}]`,
    );
  }
}

const short = (value: number) => significant(value, 4);
