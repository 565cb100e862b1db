/** Half-width of the interval for a sum of a scaled Student t and a rectangular error. */

import type { Part } from './combineIndependent.js';
import { coverageFactor, logGamma, studentCdf } from './distributions.js';

/** Step beside h at which Newton's search ends: what is left then is its square. */
const CLOSE = 1e-9;
const MOST_STEPS = 50;

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
  // The probability grows ever more slowly with h, so Newton's steps close in from below without fail.
  let h = Math.max(factor * u, confidence * halfWidth);
  for (let i = 0; i < MOST_STEPS; i++) {
    const [above, below] = [(h + halfWidth) / u, (h - halfWidth) / u];
    const [atAbove, atBelow] = [studentCdf(above, dof), studentCdf(below, dof)];
    const probability = (u / halfWidth) * (integral(above, atAbove) - integral(below, atBelow)) - 1;
    const step = ((confidence - probability) * halfWidth) / (atAbove - atBelow);
    h += step;
    if (Math.abs(step) <= CLOSE * h) break;
  }
  return h;
}

/**
 * ∫ F = x F(x) − ∫ x f(x) dx, where the last integral is −(ν + x²) f(x)/(ν − 1), for x and F(x).
 */
function antiderivative(dof: number): (x: number, cdf: number) => number {
  const scale = Math.exp(logGamma((dof + 1) / 2) - logGamma(dof / 2)) / Math.sqrt(dof * Math.PI);
  // At ν = 1 the general form divides by zero; its limit is a logarithm.
  if (dof < 1 + 1e-6) return (x, cdf) => x * cdf - Math.log1p(x * x) / (2 * Math.PI);
  return (x, cdf) => {
    const density = scale * Math.exp(-((dof + 1) / 2) * Math.log1p((x * x) / dof));
    return x * cdf + ((dof + x * x) / (dof - 1)) * density;
  };
}
