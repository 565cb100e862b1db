import { coverageFactor } from '../statistics/distributions.js';
import { CONFIDENCE, requireOptions } from '../statistics/options.js';
import { mean, standardDeviation } from '../statistics/summary.js';
import type { DifferenceSummary } from '../vocabulary.js';
import { checkDifferences } from './checkDifferences.js';

export interface SummariseOptions {
  /** Confidence level of the interval of the mean, as a fraction (default 0.95). */
  readonly confidence?: number;
}

/** The summary with what its interval was made from. */
export interface DifferenceStatistics extends DifferenceSummary {
  readonly n: number;
  /** sd/√n; `null` below two values. */
  readonly standard_error: number | null;
  /** n − 1; `null` below two values. */
  readonly dof: number | null;
  readonly confidence: number;
}

/** `summariseDifferences` as a result carries it. */
export function differenceSummary(
  values: readonly number[],
  options: SummariseOptions = {},
): DifferenceSummary {
  const { mean, sd, low, high } = summariseDifferences(values, options);
  return { mean, sd, low, high };
}

/**
 * How far apart are the meters on average, and how sure is that?
 *
 * @param values differences (candidate − reference), any unit, in any order
 * @returns `mean`, `sd` (divisor n − 1), standard error, degrees of freedom and the two-sided t
 *   interval of the mean, in the unit of the values. One value has a mean only; no value has nothing: the rest is `null`.
 * @throws argument-wrong for values that are not finite or a confidence outside (0, 1)
 *
 * Not for values that drift or repeat within series: the interval takes them as independent.
 * Source: Student's t interval; NIST/SEMATECH e-Handbook 1.3.5.2.
 */
export function summariseDifferences(
  values: readonly number[],
  options: SummariseOptions = {},
): DifferenceStatistics {
  const { confidence = 0.95 } = requireOptions(options, { confidence: CONFIDENCE });
  checkDifferences(values);
  const n = values.length;
  const nothing = { mean: null, sd: null, low: null, high: null };
  if (n < 2) {
    const mean = values[0] ?? null;
    return { ...nothing, mean, n, standard_error: null, dof: null, confidence };
  }
  const centre = mean(values);
  const sd = standardDeviation(values);
  const half = (coverageFactor(confidence, n - 1) * sd) / Math.sqrt(n);
  return {
    mean: centre,
    sd,
    low: centre - half,
    high: centre + half,
    n,
    standard_error: sd / Math.sqrt(n),
    dof: n - 1,
    confidence,
  };
}
