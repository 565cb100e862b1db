import { coverageFactor, normalQuantile } from '../statistics/distributions.js';
import { KNOWN_EXACTLY } from '../vocabulary.js';

/** Two-sided coverage factor; that of the normal distribution for what is known exactly. @throws argument-wrong */
export function coverageFactorOf(confidence: number, dof: number): number {
  return dof >= KNOWN_EXACTLY
    ? normalQuantile(0.5 + confidence / 2)
    : coverageFactor(confidence, dof);
}
