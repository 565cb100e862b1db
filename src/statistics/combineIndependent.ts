import { KNOWN_EXACTLY } from '../vocabulary.js';

/**
 * Standard uncertainty and degrees of freedom of a sum of independent parts: u² = Σ uᵢ²,
 * ν = u⁴ / Σ (uᵢ⁴/νᵢ), at most `KNOWN_EXACTLY`.
 *
 * @param parts standard uncertainties in one unit, with their degrees of freedom
 *
 * Source: JCGM 100:2008, 5.1.2 and G.4.1 (Welch–Satterthwaite).
 */
export function combineIndependent(
  parts: readonly { readonly standardUncertainty: number; readonly dof: number }[],
): { readonly standardUncertainty: number; readonly dof: number } {
  const u = Math.hypot(...parts.map((part) => part.standardUncertainty));
  const fourth = parts.reduce((sum, part) => sum + part.standardUncertainty ** 4 / part.dof, 0);
  return {
    standardUncertainty: u,
    dof: fourth > 0 ? Math.min(KNOWN_EXACTLY, u ** 4 / fourth) : KNOWN_EXACTLY,
  };
}
