/** What is left of the uncertainty of a factor without a part that others share with it. */
import type { Part } from '../statistics/combineIndependent.js';
import { KNOWN_EXACTLY } from '../vocabulary.js';

/** A factor of one wavelength at one time, as an entry of factors.json holds it. */
export interface DatedFactor {
  readonly factor: number;
  readonly relative_standard_uncertainty: number;
  readonly dof: number;
}

/**
 * Standard uncertainty and degrees of freedom of a factor without the common part, which is taken as known
 * exactly: u² − c², and ν·((u² − c²)/u²)².
 *
 * @param common relative standard uncertainty of what is shared; above that of the factor nothing
 *   is left
 *
 * Source: JCGM 100:2008, 5.2 (correlated inputs) and G.4.1, solved for the remaining part.
 */
export function withoutCommon(
  factor: Pick<DatedFactor, 'relative_standard_uncertainty' | 'dof'>,
  common: number,
): Part {
  const whole = factor.relative_standard_uncertainty ** 2;
  const variance = Math.max(0, whole - common ** 2);
  const dof = whole > 0 ? factor.dof * (variance / whole) ** 2 : factor.dof;
  // A stored number of degrees of freedom is capped, so the division may come out too small; no
  // part of a budget has fewer than one.
  return {
    standardUncertainty: Math.sqrt(variance),
    dof: variance > 0 ? Math.max(1, dof) : KNOWN_EXACTLY,
  };
}
