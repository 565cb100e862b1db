import { argumentWrong } from '../error.js';
import { normalCdf, normalQuantile } from './distributions.js';
import { jackknife } from './jackknife.js';
import { CONFIDENCE, requireOptions } from './options.js';
import { seededRandom } from './random.js';
import { mean, standardDeviation } from './summary.js';

export interface BootstrapOptions {
  readonly confidence?: number;
  /** Number of resamples (default 4000; 1000 or more for an interval). */
  readonly resamples?: number;
  readonly seed?: number;
}

export interface Bootstrap {
  readonly estimate: number;
  /** Mean of the resampled values minus the estimate. */
  readonly bias: number;
  readonly standard_error: number;
  /** BCa interval; `null` with a reason in `why`. */
  readonly low: number | null;
  readonly high: number | null;
  /** Bias correction z₀; `null` when the estimate lies outside all resampled values. */
  readonly bias_correction: number | null;
  readonly acceleration: number;
  readonly resamples: number;
  /** Resamples on which the statistic was not finite; they are left out. */
  readonly undefined_resamples: number;
  readonly seed: number;
  readonly why: string;
}

/** Quantile of sorted values by linear interpolation, p in [0, 1]. */
function sortedQuantile(sorted: ArrayLike<number>, p: number): number {
  const at = p * (sorted.length - 1);
  const floor = Math.floor(at);
  const ceil = Math.min(sorted.length - 1, floor + 1);
  return sorted[floor] + (at - floor) * (sorted[ceil] - sorted[floor]);
}

/**
 * How sure is any statistic of a sample, without a formula for its error?
 *
 * @param sample independent items of any kind (numbers, pairs, whole series); two or more
 * @param statistic pure function of a resample
 * @returns standard error, bias and the bias-corrected accelerated (BCa) interval; the same seed
 *   gives the same numbers
 * @throws too-few-values, argument-wrong
 *
 * Not below about ten items: the interval is then too narrow, whatever the number of resamples.
 * Source: Efron, J. Am. Stat. Assoc. 82 (1987) 171; Efron and Tibshirani, An Introduction to the
 * Bootstrap (1993), section 14.3.
 */
export function bootstrap<Item>(
  sample: readonly Item[],
  statistic: (sample: readonly Item[]) => number,
  options: BootstrapOptions = {},
): Bootstrap {
  const {
    confidence = 0.95,
    resamples = 4000,
    seed = 1,
  } = requireOptions(options, { confidence: CONFIDENCE, resamples: true, seed: true });
  if (!Number.isInteger(resamples) || resamples < 100 || resamples > 1e6) {
    throw argumentWrong('The number of resamples is out of range.', resamples, '100 to 1e6');
  }
  const { estimate, acceleration } = jackknife(sample, statistic);
  const random = seededRandom(seed);
  const values: number[] = [];
  for (let b = 0; b < resamples; b++) {
    const drawn = sample.map(() => sample[random.integer(0, sample.length - 1)]);
    const value = statistic(drawn);
    if (Number.isFinite(value)) values.push(value);
  }
  const lost = resamples - values.length;
  if (values.length < 2) throw argumentWrong('The statistic is not finite on the resamples.');
  const sorted = Float64Array.from(values).sort();
  let below = 0;
  for (const value of sorted) below += value < estimate ? 1 : value === estimate ? 0.5 : 0;
  const share = below / sorted.length;
  const correction = share > 0 && share < 1 ? normalQuantile(share) : null;
  const bounds = (p: number): number | null => {
    if (correction === null) return null;
    const z = correction + normalQuantile(p);
    // Beyond the pole of the correction the bound runs off to an end of the resampled values.
    const scale = 1 - acceleration * z;
    if (!(scale > 0)) return null;
    return sortedQuantile(sorted, normalCdf(correction + z / scale));
  };
  const often = lost > 0.01 * resamples;
  const low = often ? null : bounds((1 - confidence) / 2);
  const high = often ? null : bounds((1 + confidence) / 2);
  const whole = low !== null && high !== null;
  return {
    estimate,
    bias: mean(values) - estimate,
    standard_error: standardDeviation(values),
    low: whole ? low : null,
    high: whole ? high : null,
    bias_correction: correction,
    acceleration,
    resamples,
    undefined_resamples: lost,
    seed,
    why: whole
      ? ''
      : often
        ? 'The statistic is undefined on too many resamples: the sample is too small for it.'
        : 'The correction for bias and skewness leaves the range of the resampled values.',
  };
}
