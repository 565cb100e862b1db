import { argumentWrong } from '../error.js';
import type { Part } from './combineIndependent.js';
import { fCdf } from './distributions.js';

/**
 * Welch's test that several means are equal, each with its own standard uncertainty and degrees of
 * freedom: the heterogeneity test that does not take uncertainties from few readings for known.
 *
 * @param estimates at least two, standard uncertainties above 0
 * @returns F, its two degrees of freedom and the p value
 * @throws argument-wrong
 * @see Welch 1951, Biometrika 38, 330
 */
export function welchHomogeneity(estimates: readonly (Part & { readonly value: number })[]): {
  readonly f: number;
  readonly dof1: number;
  readonly dof2: number;
  readonly p: number;
} {
  const k = estimates.length;
  if (k < 2) throw argumentWrong('A homogeneity test needs at least two means.', k);
  if (estimates.some((e) => !(e.standardUncertainty > 0) || !(e.dof > 0))) {
    throw argumentWrong('Standard uncertainties and degrees of freedom must be above 0.');
  }
  const weights = estimates.map((e) => 1 / e.standardUncertainty ** 2);
  const sum = weights.reduce((total, w) => total + w, 0);
  const mean = estimates.reduce((total, e, i) => total + weights[i] * e.value, 0) / sum;
  const between = estimates.reduce((t, e, i) => t + weights[i] * (e.value - mean) ** 2, 0);
  const lambda = estimates.reduce((t, e, i) => t + (1 - weights[i] / sum) ** 2 / e.dof, 0);
  const f = between / (k - 1) / (1 + (2 * (k - 2) * lambda) / (k * k - 1));
  const dof1 = k - 1;
  const dof2 = Math.min(1e6, (k * k - 1) / (3 * lambda));
  return { f, dof1, dof2, p: 1 - fCdf(f, dof1, dof2) };
}
