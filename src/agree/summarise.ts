import { coverageFactor } from '../statistics/distributions.js';
import { requireConfidence, requireOptions } from '../statistics/options.js';
import { mean, standardDeviation } from '../statistics/summary.js';
import type { DifferenceSummary } from '../vocabulary.js';
import { checkDifferences } from './checkDifferences.js';

export interface SummariseOptions {
  /** Confidence level of the interval of the mean, as a fraction (default 0.95). */
  readonly confidence?: number;
}

/**
 * How far apart are the meters on average, and how sure is that?
 *
 * @param values differences (candidate − reference), any unit, in any order
 * @returns `mean`, `sd` (divisor n − 1) and the two-sided t interval of the mean, in the unit of
 *   the values. One value has a mean only; no value has nothing: the rest is `null`.
 * @throws argument-wrong for values that are not finite or a confidence outside (0, 1)
 *
 * Not for values that drift or repeat within series: the interval takes them as independent.
 * Source: Student's t interval; NIST/SEMATECH e-Handbook 1.3.5.2.
 */
export function summariseDifferences(
  values: readonly number[],
  options: SummariseOptions = {},
): DifferenceSummary {
  const { confidence = 0.95 } = requireOptions(options, { confidence: true });
  requireConfidence(confidence);
  checkDifferences(values);
  const n = values.length;
  if (n === 0) return { mean: null, sd: null, low: null, high: null };
  const centre = mean(values);
  if (n === 1) return { mean: centre, sd: null, low: null, high: null };
  const sd = standardDeviation(values);
  const half = (coverageFactor(confidence, n - 1) * sd) / Math.sqrt(n);
  return { mean: centre, sd, low: centre - half, high: centre + half };
}
