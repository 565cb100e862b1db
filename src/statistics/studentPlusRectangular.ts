/** Half-width of the interval for a sum of a scaled Student t and a rectangular error. */

import { bracketedRoot } from './bracketedRoot.js';
import type { Part } from './combineIndependent.js';
import { coverageFactor, logGamma, studentCdf } from './distributions.js';

/**
 * The h for which P(|u T + R| ≤ h) = confidence, with T Student's t with `dof` and R rectangular of
 * standard deviation `rectangular` and mean zero, independent. JCGM 101:2008, 6.4 gives both shapes;
 * the convolution over R has the closed form P = (u/a)·[G((h + a)/u) − G((h − a)/u)] − 1, a being
 * the half-width of R and G an antiderivative of the distribution function of T.
 *
 * A t interval around the combined standard uncertainty would be too wide where R dominates: a
 * rectangular error never exceeds √3 of its standard deviation.
 */
export function studentPlusRectangular(
  parts: Part & { readonly rectangular: number; readonly confidence: number },
): number {
  const { standardUncertainty: u, dof, rectangular, confidence } = parts;
  const halfWidth = Math.sqrt(3) * rectangular;
  if (u <= 1e-9 * rectangular) return confidence * halfWidth;
  const factor = coverageFactor(confidence, dof);
  if (rectangular <= 1e-3 * u) return factor * Math.hypot(u, rectangular);
  const integral = antiderivative(dof);
  const probability = (h: number) =>
    (u / halfWidth) * (integral((h + halfWidth) / u) - integral((h - halfWidth) / u)) - 1;
  return bracketedRoot((h) => probability(h) - confidence, 0, factor * u + halfWidth);
}

/** ∫ F = x F(x) − ∫ x f(x) dx, where the last integral is −(ν + x²) f(x)/(ν − 1). */
function antiderivative(dof: number): (x: number) => number {
  const scale = Math.exp(logGamma((dof + 1) / 2) - logGamma(dof / 2)) / Math.sqrt(dof * Math.PI);
  // At ν = 1 the general form divides by zero; its limit is a logarithm.
  if (dof < 1 + 1e-6) return (x) => x * studentCdf(x, dof) - Math.log1p(x * x) / (2 * Math.PI);
  return (x) => {
    const density = scale * Math.exp(-((dof + 1) / 2) * Math.log1p((x * x) / dof));
    return x * studentCdf(x, dof) + ((dof + x * x) / (dof - 1)) * density;
  };
}
