import type { Estimate } from './randomEffects.js';
import { mean, standardDeviation } from './summary.js';

/**
 * Mean of several estimates of one value, with s/√m; with what their own uncertainties leave in it
 * where that is more.
 *
 * @param estimates at least one
 * @returns `scatters`: whether s/√m is the larger
 * Source: JCGM 100:2008, 4.2 and 5.1.2.
 */
export function meanOfEstimates(
  estimates: readonly Estimate[],
): Estimate & { readonly scatters: boolean } {
  const m = estimates.length;
  const values = estimates.map(({ value }) => value);
  const own = Math.hypot(...estimates.map((one) => one.standardUncertainty)) / m;
  const between = m > 1 ? standardDeviation(values) / Math.sqrt(m) : 0;
  return {
    value: mean(values),
    standardUncertainty: Math.max(own, between),
    scatters: between > own,
  };
}
