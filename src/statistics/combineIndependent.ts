import { effectiveDof } from './effectiveDof.js';

/** A standard uncertainty and its degrees of freedom. */
export interface Part {
  readonly standardUncertainty: number;
  readonly dof: number;
}

/**
 * Standard uncertainty and degrees of freedom of a sum of independent parts: u² = Σ uᵢ², ν by
 * Welch and Satterthwaite (`effectiveDof`).
 *
 * @param parts standard uncertainties in one unit, with their degrees of freedom
 * @throws argument-wrong as `effectiveDof`
 *
 * Source: JCGM 100:2008, 5.1.2.
 */
export function combineIndependent(parts: readonly Part[]): Part {
  return {
    standardUncertainty: Math.hypot(...parts.map((part) => part.standardUncertainty)),
    dof: effectiveDof(
      parts.map(({ standardUncertainty, dof }) => ({
        standard_uncertainty: standardUncertainty,
        dof,
      })),
    ),
  };
}

/** The same for contributions of a budget. */
export const combineContributed = (
  parts: readonly { readonly relative_standard_uncertainty: number; readonly dof: number }[],
): Part =>
  combineIndependent(
    parts.map(({ relative_standard_uncertainty: standardUncertainty, dof }) => ({
      standardUncertainty,
      dof,
    })),
  );
