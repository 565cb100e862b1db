/** Does one factor serve all colours? */

import { percent } from '../findings/formatNumber.js';
import { WIDEST_FACTOR } from '../series/seriesFactor.js';
import type { LogFactor } from '../series/seriesMean.js';
import { coverageFactor } from '../statistics/distributions.js';
import { randomEffectsMean } from '../statistics/randomEffects.js';
import { welchHomogeneity } from '../statistics/welchHomogeneity.js';
import type { CommonFactor } from '../vocabulary.js';

/**
 * The uncertainty is WITHOUT what all wavelengths share (the reference's calibration): a common error
 * moves all factors together and tells nothing about their spread.
 */
export interface WavelengthEstimate extends LogFactor {
  readonly wavelength_nm: number;
}

/**
 * A common factor is supported when the wavelengths are not shown to differ (Welch's test at 5 %)
 * *and* the interval of every wavelength's factor, without the shared part, stays within the
 * tolerance of the common one: a test that fails to reject shows nothing when the data are few.
 *
 * @param estimates one per wavelength
 * @param shared relative standard uncertainty common to all (the reference's calibration), added
 *   to the interval of the common factor
 */
export function commonFactor(
  estimates: readonly WavelengthEstimate[],
  options: {
    readonly tolerance: number;
    readonly confidence: number;
    readonly shared: number;
  },
): CommonFactor {
  const { tolerance, confidence, shared } = options;
  if (estimates.length < 2) {
    return {
      supported: false,
      p: null,
      factor: null,
      low: null,
      high: null,
      why:
        estimates.length === 0
          ? 'No wavelength has a factor.'
          : 'Only one wavelength was measured: nothing can be said about others.',
    };
  }
  const plain = estimates.map((e) => ({
    value: e.logFactor,
    standardUncertainty: Math.max(e.standardUncertainty, 1e-6),
    dof: e.dof,
  }));
  const test = welchHomogeneity(plain);
  const mean = randomEffectsMean(plain);
  const half = coverageFactor(confidence, estimates.length - 1) * mean.hartungKnapp;
  const wide = Math.hypot(half, coverageFactor(confidence, 1e6) * shared);
  const reaches = estimates.map((e) => {
    const own = coverageFactor(confidence, e.dof) * e.standardUncertainty;
    return { nm: e.wavelength_nm, off: Math.expm1(Math.abs(e.logFactor - mean.mean) + own) };
  });
  const farthest = reaches.reduce((a, b) => (b.off > a.off ? b : a));
  const within = farthest.off <= tolerance;
  const differ = test.p < 0.05;
  const p = Math.max(test.p, 0);
  if (!(wide <= Math.log(WIDEST_FACTOR))) {
    const why = `${estimates.length} wavelengths do not tell a common factor at this confidence: its interval would reach beyond a factor of ${WIDEST_FACTOR} either way.`;
    return { supported: false, p, factor: null, low: null, high: null, why };
  }
  return {
    supported: within && !differ,
    p,
    factor: Math.exp(mean.mean),
    low: Math.exp(mean.mean - wide),
    high: Math.exp(mean.mean + wide),
    why: sentence(differ, within, farthest, tolerance),
  };
}

function sentence(
  differ: boolean,
  within: boolean,
  farthest: { readonly nm: number; readonly off: number },
  tolerance: number,
): string {
  const reach = `the interval of the factor at ${farthest.nm} nm reaches ${percent(farthest.off)} from the common one, and the tolerance is ${percent(tolerance)}`;
  if (differ && !within) return `The factors differ from wavelength to wavelength: ${reach}.`;
  if (differ) {
    return `The factors differ beyond chance, although by less than the tolerance of ${percent(tolerance)}: use the factor of each wavelength.`;
  }
  if (!within) return `No difference is shown, but that is not enough: ${reach}.`;
  return `The factors are not shown to differ, and the intervals of all of them lie within the tolerance of ${percent(tolerance)} of the common one.`;
}
