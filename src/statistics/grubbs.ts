import { studentQuantile } from './distributions.js';
import { requireOptions } from './options.js';
import { mean, requireValues, standardDeviation } from './summary.js';

export interface GrubbsResult {
  readonly index: number;
  /** Its distance from the mean in standard deviations; 0 when all values are equal. */
  readonly statistic: number;
  readonly critical: number;
  readonly outlier: boolean;
}

/**
 * Grubbs' test, two-sided: is the value farthest from the mean an outlier?
 *
 * For one outlier in roughly normal values, and not for six values or fewer: there the largest
 * possible statistic hardly exceeds the critical value.
 *
 * @param values any unit, at least 7
 * @throws too-few-values, argument-wrong
 * @see Grubbs 1969, Technometrics 11, 1; NIST/SEMATECH e-Handbook 1.3.5.17.1
 */
export function grubbs(
  values: readonly number[],
  options: { readonly alpha?: number } = {},
): GrubbsResult {
  const { alpha = 0.05 } = requireOptions(options, { alpha: { maybe: 'fraction' } });
  requireValues(values, 7, "Grubbs' test");
  const n = values.length;
  const centre = mean(values);
  const sd = standardDeviation(values);
  let index = 0;
  values.forEach((value, i) => {
    if (Math.abs(value - centre) > Math.abs(values[index] - centre)) index = i;
  });
  const t = studentQuantile(1 - alpha / (2 * n), n - 2);
  const critical = ((n - 1) / Math.sqrt(n)) * Math.sqrt((t * t) / (n - 2 + t * t));
  const statistic = sd === 0 ? 0 : Math.abs(values[index] - centre) / sd;
  return { index, statistic, critical, outlier: statistic > critical };
}
