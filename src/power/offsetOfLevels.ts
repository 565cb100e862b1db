import type { LogFactor } from '../series/seriesMean.js';
import { coverageFactor, fCdf } from '../statistics/distributions.js';
import { leastSquares } from '../statistics/leastSquares.js';

/** Two levels lie on any curve of two unknowns: from three on an offset can be told. */
const LEAST_LEVELS = 3;
const LEVEL_OF_TEST = 0.05;
/**
 * More than a quarter of the lowest indication is no offset to correct for but a zero to set: at half
 * of that indication it would be half of what is shown (common practice, no source).
 */
const MOST = 0.25;

/**
 * The offset of the candidate that the levels show, in mW; `null` where they show none. Fits
 * ln K = m + ln(1 − offset/c) by Gauss and Newton, weighted with the levels' own uncertainties.
 *
 * Shown means all of: beyond its interval; what it leaves is no more than placement and scatter
 * explain (F test); it follows the levels better than a straight line in ln c. A wrong choice costs
 * little: at the levels nothing depends on it, and where two ways between them lie far apart, they
 * also lie apart at the third level.
 *
 * @param levels ln K of each level by its own series, and its place in mW
 */
export function offsetOfLevels(
  levels: readonly (LogFactor & { readonly centre_mW: number })[],
): number | null {
  if (levels.length < LEAST_LEVELS) return null;
  const y = levels.map((level) => level.logFactor);
  const weights = levels.map((level) => 1 / level.standardUncertainty ** 2);
  const lowest = Math.min(...levels.map((level) => level.centre_mW));
  const dof = Math.min(...levels.map((level) => level.dof));
  let offset = 0;
  for (let round = 0; round < 50; round++) {
    const at = levels.map(({ centre_mW: c }) => Math.log1p(-offset / c));
    const fit = leastSquares(
      levels.map(({ centre_mW: c }) => [1, -lowest / (c - offset)]),
      y.map((value, j) => value - at[j]),
      weights,
    );
    const step = fit.coefficients[1] * lowest;
    if (Math.abs(step) > 1e-9 * lowest) {
      offset += step;
      if (!(Math.abs(offset) < lowest)) return null;
      continue;
    }
    const error = Math.sqrt(fit.unscaledCovariance[1][1]) * lowest;
    const rest = levels.length - 2;
    const straight = leastSquares(
      levels.map(({ centre_mW: c }) => [1, Math.log(c / lowest)]),
      y,
      weights,
    );
    const shown =
      Math.abs(offset) <= MOST * lowest &&
      Math.abs(offset) > coverageFactor(1 - LEVEL_OF_TEST, dof) * error &&
      1 - fCdf(fit.residualSumOfSquares / rest, rest, dof) >= LEVEL_OF_TEST &&
      fit.residualSumOfSquares < straight.residualSumOfSquares;
    return shown ? offset : null;
  }
  return null;
}
