import { argumentWrong } from '../error.js';
import { percent } from '../findings/formatNumber.js';
import { studentCdf, studentQuantile } from '../statistics/distributions.js';
import { requireOptions } from '../statistics/options.js';
import { mean, standardDeviation } from '../statistics/summary.js';
import { checkDifferences } from './checkDifferences.js';
import { back, logarithmsOf } from './ratioLimits.js';

export interface EquivalenceOptions {
  /** Margins, set before looking at the data; for ratios both above 0, such as 0.95 and 1/0.95. */
  readonly low: number;
  readonly high: number;
  /** Level of each of the two tests (default 0.05). */
  readonly alpha?: number;
}

export interface Equivalence {
  /** `equivalent` when the mean is shown to lie within the margins; else nothing is shown. */
  readonly decision: 'equivalent' | 'not-shown';
  /** Mean difference, or geometric mean ratio. */
  readonly estimate: number | null;
  /** Of the interval: 1 − 2α. */
  readonly confidence: number;
  /** Interval at `confidence`: equivalence is shown when it lies inside the margins. */
  readonly low: number | null;
  readonly high: number | null;
  readonly dof: number | null;
  /** Tests against the lower and the upper margin. */
  readonly t_low: number | null;
  readonly t_high: number | null;
  readonly p_low: number | null;
  readonly p_high: number | null;
  /** The larger of both. */
  readonly p: number | null;
  readonly why: string;
}

const UNTESTED = {
  decision: 'not-shown',
  low: null,
  high: null,
  dof: null,
  t_low: null,
  t_high: null,
  p_low: null,
  p_high: null,
  p: null,
} as const;

/**
 * Is the mean difference shown to be too small to matter (two one-sided tests)?
 *
 * A difference test that finds nothing shows nothing: with few readings it never finds any. Here
 * the burden lies the other way round, and few readings lead to `not-shown`.
 *
 * @param values independent differences, in the unit of the margins
 * @returns decision, interval and tests; `null` fields (too few values, or all equal) have their
 *   reason in `why`
 * @throws argument-wrong
 *
 * It speaks of the mean only: single readings may still differ by more (`limitsOfAgreement`).
 * Source: Schuirmann, J. Pharmacokinet. Biopharm. 15 (1987) 657.
 */
export function equivalenceOfDifference(
  values: readonly number[],
  options: EquivalenceOptions,
): Equivalence {
  const {
    low,
    high,
    alpha = 0.05,
  } = requireOptions(options, { low: true, high: true, alpha: true });
  checkDifferences(values);
  checkDifferences([low, high]);
  if (!(low < high)) throw argumentWrong('The lower margin must lie below the upper.', low);
  if (!(alpha > 0 && alpha < 0.5)) {
    throw argumentWrong('The level of the tests must lie between 0 and 0.5.', alpha);
  }
  // Twelve digits: 1 − 0.95 is not quite 0.05.
  const confidence = Number((1 - 2 * alpha).toPrecision(12));
  const n = values.length;
  const estimate = n > 0 ? mean(values) : null;
  const error = n > 1 ? standardDeviation(values) / Math.sqrt(n) : 0;
  const dof = n - 1;
  if (estimate === null || !(error > 0)) {
    return {
      ...UNTESTED,
      estimate,
      confidence,
      why:
        n < 2
          ? 'Fewer than 2 differences show no scatter, so nothing can be tested.'
          : 'All differences are equal: the display hides their scatter, so nothing can be tested.',
    };
  }
  const tLow = (estimate - low) / error;
  const tHigh = (estimate - high) / error;
  const pLow = studentCdf(-tLow, dof);
  const pHigh = studentCdf(tHigh, dof);
  const p = Math.max(pLow, pHigh);
  const half = studentQuantile(1 - alpha, dof) * error;
  const shown = p < alpha;
  const level = percent(confidence, 6);
  return {
    decision: shown ? 'equivalent' : 'not-shown',
    estimate,
    confidence,
    low: estimate - half,
    high: estimate + half,
    dof,
    t_low: tLow,
    t_high: tHigh,
    p_low: pLow,
    p_high: pHigh,
    p,
    why: shown
      ? `The ${level} interval of the mean lies inside the margins.`
      : `The ${level} interval of the mean is not inside the margins: equivalence is not shown, which does not show a difference either.`,
  };
}

/**
 * Is the mean ratio shown to lie within margins (two one-sided tests on logarithms)?
 *
 * @param ratios candidate ÷ reference, above 0
 * @returns estimate (geometric mean) and interval as ratios
 * @throws reading-not-positive, argument-wrong
 */
export function equivalenceOfRatio(
  ratios: readonly number[],
  options: EquivalenceOptions,
): Equivalence {
  const {
    low,
    high,
    alpha = 0.05,
  } = requireOptions(options, { low: true, high: true, alpha: true });
  const [logLow, logHigh] = logarithmsOf([low, high]);
  const result = equivalenceOfDifference(logarithmsOf(ratios), {
    low: logLow,
    high: logHigh,
    alpha,
  });
  return {
    ...result,
    estimate: back(result.estimate),
    low: back(result.low),
    high: back(result.high),
  };
}
