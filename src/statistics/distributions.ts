/**
 * Distribution functions and quantiles, from jstat behind guarded names.
 *
 * Accuracy of what is borrowed: t, chi-square and F quantiles agree with published tables and with
 * R to about 3e-8 relative (test/statistics/distributions.test.ts).
 */

import jstat from 'jstat';
import { KNOWN_EXACTLY } from '../vocabulary.js';
import { requireDof } from './effectiveDof.js';
import { requireConfidence } from './options.js';
import { requireShape } from './shapes.js';

const { jStat } = jstat;

const probability = (p: number): void => requireShape(p, 'A probability', 'fraction');

/** Quantile of the standard normal distribution. @throws argument-wrong for p outside (0, 1). */
export function normalQuantile(p: number): number {
  probability(p);
  return jStat.normal.inv(p, 0, 1);
}

/** Standard normal distribution function. */
export function normalCdf(z: number): number {
  return jStat.normal.cdf(z, 0, 1);
}

/** Quantile of Student's t with `dof` (need not be whole). @throws argument-wrong. */
export function studentQuantile(p: number, dof: number): number {
  probability(p);
  requireDof(dof);
  return p === 0.5 ? 0 : jStat.studentt.inv(p, dof);
}

/** Distribution function of Student's t. @throws argument-wrong. */
export function studentCdf(t: number, dof: number): number {
  requireDof(dof);
  // The library's series for the middle stops short there: at a million degrees of freedom by 0.017.
  if (dof > 1e5 && Math.abs(t) < 0.5) {
    const within = jStat.beta.cdf(t ** 2 / (dof + t ** 2), 0.5, dof / 2);
    return 0.5 + (Math.sign(t) * within) / 2;
  }
  return jStat.studentt.cdf(t, dof);
}

/**
 * Two-sided coverage factor t for a confidence level, as in JCGM 100:2008, table G.2.
 *
 * @throws argument-wrong
 */
export function coverageFactor(confidence: number, dof: number): number {
  requireConfidence(confidence);
  return studentQuantile(0.5 + confidence / 2, dof);
}

/** The same, and that of the normal distribution for what is known exactly. @throws argument-wrong */
export function coverageFactorOf(confidence: number, dof: number): number {
  return dof >= KNOWN_EXACTLY
    ? normalQuantile(0.5 + confidence / 2)
    : coverageFactor(confidence, dof);
}

/** Quantile of the chi-square distribution. @throws argument-wrong. */
export function chiSquareQuantile(p: number, dof: number): number {
  probability(p);
  requireDof(dof);
  return jStat.chisquare.inv(p, dof);
}

/** Distribution function of chi-square. @throws argument-wrong. */
export function chiSquareCdf(x: number, dof: number): number {
  requireDof(dof);
  return x <= 0 ? 0 : jStat.chisquare.cdf(x, dof);
}

/** Distribution function of Fisher's F. @throws argument-wrong. */
export function fCdf(x: number, dof1: number, dof2: number): number {
  requireDof(dof1);
  requireDof(dof2);
  return x <= 0 ? 0 : jStat.centralF.cdf(x, dof1, dof2);
}

/** Natural logarithm of the gamma function. */
export function logGamma(x: number): number {
  return jStat.gammaln(x);
}
