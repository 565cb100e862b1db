/** A decision against limits, and the risk that it is wrong. */
import { normalCdf } from '../../statistics/distributions.js';

/** What was found, with its standard uncertainty, and between which limits the truth may lie. */
export interface Found {
  readonly value: number;
  readonly u: number;
  readonly limits: readonly [low: number, high: number];
}

/**
 * Probability that the true value lies outside the limits, for a normal distribution around what was
 * found.
 *
 * @see JCGM 106:2012, clause 7 (from memory): 1 − [Φ((T_U − y)/u) − Φ((T_L − y)/u)]
 */
export function riskOutside({ value, u, limits: [low, high] }: Found): number {
  return normalCdf((low - value) / u) + normalCdf((value - high) / u);
}

/** With a guard band of U = 2u: accepted inside it, rejected beyond, undecided between. */
export function guarded({ value, u, limits: [low, high] }: Found): string {
  const margin = Math.min(value - low, high - value);
  if (margin >= 2 * u) return 'accept';
  return margin < -2 * u ? 'reject' : 'undecided';
}
