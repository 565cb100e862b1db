import { normalQuantile } from '../statistics/distributions.js';
import { CONFIDENCE, requireOptions } from '../statistics/options.js';
import { mean, standardDeviation } from '../statistics/summary.js';
import { correlation } from './correlation.js';
import type { PairedReadings } from './pairedLevels.js';
import { requirePairs } from './pairedLevels.js';

export interface Concordance {
  /** Concordance correlation, −1 to 1; 1 only when all pairs are equal. */
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** Pearson's correlation: how close the pairs lie to any line. */
  readonly precision: number | null;
  /** Bias correction factor, 0 to 1: how close that line lies to equality. */
  readonly accuracy: number | null;
  /** Standard error of artanh(value). */
  readonly standard_error_z: number | null;
  readonly why: string;
}

/**
 * How close do the pairs lie to the line of equality, on a scale from −1 to 1?
 *
 * A side note, not a verdict: like any correlation it depends on the range of power. The same
 * errors look excellent over 1 to 1000 mW and poor over 90 to 110 mW, and no value of it says by
 * how many percent a reading may be off. For that: `limitsOfAgreement`.
 *
 * @returns value with the interval by Fisher's z; `null` fields have their reason in `why`
 * @throws too-few-values below 3 pairs, argument-wrong
 *
 * Source: Lin, Biometrics 45 (1989) 255; standard error with the correction in Biometrics 56 (2000)
 * 324. Variances with divisor n, as there.
 */
export function concordance(
  pairs: PairedReadings,
  options: { readonly confidence?: number } = {},
): Concordance {
  const { confidence = 0.95 } = requireOptions(options, { confidence: CONFIDENCE });
  requirePairs(pairs, 3, 'A concordance correlation');
  const n = pairs.reference.length;
  const none = {
    value: null,
    low: null,
    high: null,
    precision: null,
    accuracy: null,
    standard_error_z: null,
  };
  const r = correlation(pairs);
  if (r === null) return { ...none, why: 'At least one meter shows the same reading throughout.' };
  const shrink = Math.sqrt((n - 1) / n);
  const s1 = shrink * standardDeviation(pairs.reference);
  const s2 = shrink * standardDeviation(pairs.candidate);
  const shift = mean(pairs.candidate) - mean(pairs.reference);
  // Written with ratios, so that neither tiny nor huge readings overflow.
  const accuracy = 2 / (s1 / s2 + s2 / s1 + (shift / s1) * (shift / s2));
  const u2 = (shift / s1) * (shift / s2);
  const value = r * accuracy;
  const whole = { value, precision: r, accuracy };
  if (n < 4 || !(Math.abs(value) < 1 - 1e-12)) {
    return {
      ...none,
      ...whole,
      why: n < 4 ? 'Fewer than 4 pairs give no interval.' : 'All pairs are equal.',
    };
  }
  const c2 = value * value;
  const variance =
    ((1 - r * r) * accuracy ** 2 * (1 - c2) +
      2 * c2 * accuracy * (1 - value) * u2 -
      0.5 * c2 * accuracy ** 2 * u2 * u2) /
    ((n - 2) * (1 - c2) ** 2);
  const error = Math.sqrt(Math.max(0, variance));
  const z = Math.atanh(value);
  const half = normalQuantile((1 + confidence) / 2) * error;
  return {
    ...whole,
    low: Math.tanh(z - half),
    high: Math.tanh(z + half),
    standard_error_z: error,
    why: '',
  };
}
