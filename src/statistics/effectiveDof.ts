import { argumentWrong } from '../error.js';
import { requireShape } from '../statistics/shapes.js';
import { KNOWN_EXACTLY } from '../vocabulary.js';

/** One independent part of a combined uncertainty: uᵢ(y) = |cᵢ| u(xᵢ) and its degrees of freedom. */
export interface UncertaintyPart {
  /** In the unit of the result, or relative; all parts alike. */
  readonly standard_uncertainty: number;
  readonly dof: number;
}

const PARTS = { list: { fields: { standard_uncertainty: 'not-negative' } } } as const;

/**
 * How many degrees of freedom does a combined standard uncertainty have? (Welch–Satterthwaite.)
 *
 * Parts must be independent of each other; parts of zero are skipped. Never below the smallest
 * degrees of freedom of a part, never above `KNOWN_EXACTLY`, which a part uses to say "infinite".
 *
 * @throws argument-wrong for an uncertainty below zero or degrees of freedom not above zero
 * @see JCGM 100:2008, G.4.1, equation (G.2b)
 */
export function effectiveDof(parts: readonly UncertaintyPart[]): number {
  requireShape(parts, 'The parts', PARTS);
  for (const part of parts) requireDof(part.dof);
  const largest = Math.max(0, ...parts.map((part) => part.standard_uncertainty));
  if (largest === 0) return KNOWN_EXACTLY;
  // Scaled by the largest part, so that fourth powers neither vanish nor overflow.
  let variance = 0;
  let denominator = 0;
  for (const part of parts) {
    const squared = (part.standard_uncertainty / largest) ** 2;
    variance += squared;
    if (part.dof < KNOWN_EXACTLY) denominator += squared ** 2 / part.dof;
  }
  const dof = Math.min(KNOWN_EXACTLY, variance ** 2 / denominator);
  // Rounding must not push a lone part's degrees of freedom below what was put in.
  return Math.max(dof, Math.min(KNOWN_EXACTLY, ...parts.map((part) => part.dof)));
}

/** @throws argument-wrong unless above zero; infinity is written `KNOWN_EXACTLY` */
export function requireDof(dof: number): void {
  if (!(Number.isFinite(dof) && dof > 0)) {
    throw argumentWrong(
      'Degrees of freedom must be a finite number above zero.',
      dof,
      `${KNOWN_EXACTLY} for an uncertainty taken as known exactly`,
    );
  }
}
