import { combineIndependent, type Part } from '../statistics/combineIndependent.js';
import { coverageFactor } from '../statistics/distributions.js';
import { KNOWN_EXACTLY } from '../vocabulary.js';
import { factorAtPower } from './factorAtPower.js';
import type { PowerCurve } from './powerLevels.js';

/** No coverage factor of the hazard is below this, whatever the study's confidence. */
export const LEAST_COVERAGE = 2;

/**
 * The most that ln K may be for an indication: for the hazard. k·u of the factor and of what all share,
 * and on top of it, not in quadrature, what is open between the levels and outside (the linear sum of
 * FDA, HEW 76-8036, 3.5). The largest of several curves counts: by the series of the levels alone, and by
 * the levels drawn together, because a level that came out low by chance and one that was drawn down by
 * its neighbours both make a laser look weaker than it is.
 *
 * @param curves of one wavelength; between levels both neighbours should count as off together
 * @param options `shared`: standard uncertainty that all levels have in common and the displays',
 *   with its degrees of freedom; `confidence`: two-sided, of the study (default 0.95); `coverage`: k for
 *   degrees of freedom, where many readings ask for few of them
 * @returns ln K; `null` where no factor is given: nothing bounds it there
 * @throws argument-wrong
 */
export function highestFactorAt(
  curves: readonly PowerCurve[],
  candidate_mW: number,
  options: {
    readonly shared?: Part;
    readonly confidence?: number;
    readonly coverage?: (dof: number) => number;
  } = {},
): number | null {
  const shared = options.shared ?? { standardUncertainty: 0, dof: KNOWN_EXACTLY };
  const { confidence = 0.95, coverage = (dof) => coverageFactor(confidence, dof) } = options;
  const bounds = curves.map((curve) => {
    const found = factorAtPower(curve, candidate_mW);
    if (found === null) return null;
    const { standardUncertainty: u, dof } = combineIndependent([found, shared]);
    const k = Math.max(LEAST_COVERAGE, coverage(dof));
    return found.logFactor + k * u + found.between + found.outside;
  });
  const known = bounds.filter((bound) => bound !== null);
  return known.length < bounds.length || known.length === 0 ? null : Math.max(...known);
}
