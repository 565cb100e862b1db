import { argumentWrong } from '../error.js';
import { studentQuantile } from './distributions.js';
import { requireOptions } from './options.js';
import { requireShape } from './shapes.js';
import { mean, requireValues, standardDeviation } from './summary.js';

export interface EsdStep {
  /** Index in the given array of the value farthest out at this step. */
  readonly index: number;
  /** Its distance from the mean of what was left, in standard deviations. */
  readonly statistic: number;
  readonly critical: number;
}

export interface EsdResult {
  readonly steps: readonly EsdStep[];
  /** Indices judged to be outliers: all steps up to the last one whose statistic is above critical. */
  readonly outliers: readonly number[];
}

/**
 * Generalised extreme studentised deviate: which of up to `most` values are outliers, when nobody
 * knows how many there are? Avoids masking: a later step may convict the earlier ones.
 *
 * For roughly normal values; good from 25 values on, usable from 15.
 *
 * @param values any unit, at least 4
 * @param options.most upper bound for the number of outliers, 1 ≤ most ≤ n − 3
 * @param options.alpha significance level (default 0.05)
 * @throws too-few-values, argument-wrong
 * @see Rosner 1983, Technometrics 25, 165; NIST/SEMATECH e-Handbook 1.3.5.17.3
 */
export function generalisedEsd(
  values: readonly number[],
  options: { readonly most: number; readonly alpha?: number },
): EsdResult {
  const { most, alpha = 0.05 } = requireOptions(options, { most: true, alpha: true });
  requireValues(values, 4, 'The generalised ESD test');
  const n = values.length;
  if (!Number.isInteger(most) || most < 1 || most > n - 3) {
    throw argumentWrong('The most outliers must be a whole number from 1 to n − 3.', most);
  }
  requireShape(alpha, 'alpha', 'fraction');
  const left = values.map((value, index) => ({ value, index }));
  const steps: EsdStep[] = [];
  for (let i = 1; i <= most; i++) {
    const plain = left.map((item) => item.value);
    const centre = mean(plain);
    const sd = standardDeviation(plain);
    if (sd === 0) break;
    let worst = 0;
    left.forEach((item, place) => {
      if (Math.abs(item.value - centre) > Math.abs(left[worst].value - centre)) worst = place;
    });
    const t = studentQuantile(1 - alpha / (2 * (n - i + 1)), n - i - 1);
    steps.push({
      index: left[worst].index,
      statistic: Math.abs(left[worst].value - centre) / sd,
      critical: ((n - i) * t) / Math.sqrt((n - i - 1 + t * t) * (n - i + 1)),
    });
    left.splice(worst, 1);
  }
  let last = 0;
  steps.forEach((step, i) => {
    if (step.statistic > step.critical) last = i + 1;
  });
  return { steps, outliers: steps.slice(0, last).map((step) => step.index) };
}
