/** Mean of estimates that scatter more than their own uncertainties explain. */

import { failure } from '../error.js';
import { bracketedRoot } from './bracketedRoot.js';
import { chiSquareCdf, coverageFactor } from './distributions.js';
import { CONFIDENCE, requireOptions } from './options.js';
import { requireShape } from './shapes.js';

/** A number with its standard uncertainty, in the same unit. */
export interface Estimate {
  readonly value: number;
  readonly standardUncertainty: number;
}

/** Below this p value of Q the estimates are said to contradict each other. */
export const CONTRADICTION = 0.05;

export interface RandomEffectsMean {
  readonly mean: number;
  /** Square root of 1/Σ weights: the classical standard error. */
  readonly standardError: number;
  /**
   * Hartung and Knapp's standard error, for Student's t with m − 1 degrees of freedom. Not below
   * the classical one (the usual safeguard: chance agreement of few estimates proves nothing).
   */
  readonly hartungKnapp: number;
  /** The same without the safeguard. */
  readonly hartungKnappPlain: number;
  readonly betweenVariance: number;
  /** Cochran's Q and its p value: do the estimates scatter more than their uncertainties say? */
  readonly q: number;
  readonly p: number;
  readonly iSquared: number;
}

/** The mean with its interval. */
export interface RandomEffects extends RandomEffectsMean {
  /** mean ∓ t·hartungKnapp, t with `dof` degrees of freedom, at `confidence`. */
  readonly low: number;
  readonly high: number;
  /** Number of estimates less one. */
  readonly dof: number;
  readonly confidence: number;
}

export interface RandomEffectsOptions {
  readonly method?: 'paule-mandel' | 'dersimonian-laird';
}

/**
 * Random-effects mean with the between-estimate variance of Paule and Mandel 1982 (default) or of
 * DerSimonian and Laird 1986.
 *
 * @param estimates at least two, each with a standard uncertainty above 0
 * @returns mean with its standard errors and the interval of Hartung and Knapp. With the variance of
 *   Paule and Mandel their error equals the classical one; only t remains, and it is what matters.
 * @throws too-few-values, argument-wrong
 * @see DerSimonian and Kacker 2007, Contemp. Clin. Trials 28, 105 (both estimators); Knapp and
 *   Hartung 2003, Stat. Med. 22, 2693 (the standard error)
 */
export function randomEffects(
  estimates: readonly Estimate[],
  options: RandomEffectsOptions & { readonly confidence?: number } = {},
): RandomEffects {
  const { method = 'paule-mandel', confidence = 0.95 } = requireOptions(options, {
    method: { maybe: ['paule-mandel', 'dersimonian-laird'] },
    confidence: CONFIDENCE,
  });
  const found = randomEffectsMean(estimates, { method });
  const dof = estimates.length - 1;
  const half = coverageFactor(confidence, dof) * found.hartungKnapp;
  return { ...found, low: found.mean - half, high: found.mean + half, dof, confidence };
}

/** `randomEffects` without its interval, for those who make another one of it. */
export function randomEffectsMean(
  estimates: readonly Estimate[],
  { method = 'paule-mandel' }: RandomEffectsOptions = {},
): RandomEffectsMean {
  requireEstimates(estimates, 'A random-effects mean');
  const m = estimates.length;
  const fixed = weighted(estimates, 0);
  const between =
    method === 'paule-mandel'
      ? pauleMandel(estimates)
      : Math.max(0, (fixed.q - (m - 1)) / (fixed.sum - fixed.sumOfSquares / fixed.sum));
  const random = weighted(estimates, between);
  const classical = 1 / Math.sqrt(random.sum);
  const plain = Math.sqrt(random.q / ((m - 1) * random.sum));
  return {
    mean: random.mean,
    standardError: classical,
    hartungKnapp: Math.max(classical, plain),
    hartungKnappPlain: plain,
    betweenVariance: between,
    q: fixed.q,
    p: 1 - chiSquareCdf(fixed.q, m - 1),
    iSquared: fixed.q > 0 ? Math.max(0, (fixed.q - (m - 1)) / fixed.q) : 0,
  };
}

/** At least two, each with an uncertainty above 0. @throws argument-wrong, too-few-values */
export function requireEstimates(estimates: readonly Estimate[], what: string): void {
  const estimate = { fields: { value: 'number', standardUncertainty: 'above-zero' } } as const;
  requireShape(estimates, 'The estimates', { list: estimate });
  if (estimates.length < 2) {
    throw failure('too-few-values', `${what} needs at least 2 values.`, estimates.length);
  }
}

function weighted(estimates: readonly Estimate[], between: number) {
  let sum = 0;
  let sumOfSquares = 0;
  let total = 0;
  for (const { value, standardUncertainty } of estimates) {
    const weight = 1 / (standardUncertainty ** 2 + between);
    sum += weight;
    sumOfSquares += weight * weight;
    total += weight * value;
  }
  const mean = total / sum;
  const q = estimates.reduce(
    (acc, { value, standardUncertainty }) =>
      acc + (value - mean) ** 2 / (standardUncertainty ** 2 + between),
    0,
  );
  return { mean, sum, sumOfSquares, q };
}

/** The variance at which Σ w (x − x̄)² equals m − 1; zero where it is below that from the start. */
function pauleMandel(estimates: readonly Estimate[]): number {
  const target = estimates.length - 1;
  if (weighted(estimates, 0).q <= target) return 0;
  let high = 1e-12;
  while (weighted(estimates, high).q > target) high *= 4;
  return bracketedRoot((between) => weighted(estimates, between).q - target, 0, high);
}
