import { requireShape } from '../statistics/shapes.js';
import { KNOWN_EXACTLY } from '../vocabulary.js';
import { type ExactPart, requirePart } from './exactPart.js';
import { type ExactDistribution, symmetricDistribution } from './symmetricDistribution.js';
import { upperTail } from './upperTail.js';

/** Parts below this fraction of the largest change nothing that could be seen. */
const NEGLIGIBLE = 1e-8;
/** By how much a probability may change where narrow bounded parts are taken for normal ones. */
const NARROW_CHANGE = 5e-8;
/** Excess of the bounded shapes, and of the others none. */
const EXCESS: Readonly<Record<ExactPart['shape'], number>> = {
  normal: 0,
  student: 0,
  rectangular: -1.2,
  triangular: -0.6,
  arcsine: -1.5,
};

/**
 * How is a sum of independent normal, Student, rectangular, triangular and arcsine parts
 * distributed? Accurate to 1e-7 in probability (test/budget/exactDistribution.test.ts).
 *
 * Normal and Student parts make one mixture of normals (`varianceMixture`). Bounded parts follow one
 * by one, those that are narrow beside the mixture as normal parts: a rectangle averages the distribution function over its width, which is exact on
 * polynomials; a triangle is two rectangles of half the width; an arcsine is a mean over an angle.
 * The widest rectangle comes last and needs no table of its own.
 *
 * The characteristic function was not inverted instead, because it falls slowly for rectangles and
 * has no expansion at zero for few degrees of freedom.
 *
 * @throws argument-wrong for an uncertainty below zero or not finite, degrees of freedom below 1, or
 *   an unknown shape
 * @see JCGM 101:2008, 5.2, 6.4 and 7.7 (what it must agree with)
 */
export function exactDistribution(parts: readonly ExactPart[]): ExactDistribution {
  requireShape(parts, 'The parts', { list: { fields: {} } });
  parts.forEach(requirePart);
  const unit = Math.max(0, ...parts.map((part) => part.standard_uncertainty));
  if (unit === 0) return symmetricDistribution(null, 0, 0, true);
  const scaled = parts
    .map((part) => ({ ...part, standard_uncertainty: part.standard_uncertainty / unit }))
    .filter((part) => part.standard_uncertainty > NEGLIGIBLE);
  const summed = narrowAsNormal(scaled);
  const { tail, scale } = upperTail(summed);
  const oneHump = summed.every((part) => part.shape !== 'arcsine');
  return symmetricDistribution(tail, scale, unit, oneHump);
}

/**
 * Beside a normal part of standard deviation s, a bounded part of excess κ and deviation u moves the
 * distribution function by κ u⁴/(24 s⁴) He₃ φ, at most 0.551 |κ| u⁴/(24 s⁴). In a mixture, 1/s⁴ is at
 * most (1 + 2/ν)/S⁴ in the mean, S² the sum of all squared scales and ν the least degrees of freedom:
 * 1/x² is convex, and the mean of (χ²/ν)² is 1 + 2/ν.
 *
 * Source: first term of Edgeworth's series (Abramowitz and Stegun, 26.2.47).
 */
function narrowAsNormal(parts: readonly ExactPart[]): readonly ExactPart[] {
  const smooth = parts.filter(({ shape }) => EXCESS[shape] === 0);
  const squares = smooth.reduce((sum, one) => sum + one.standard_uncertainty ** 2, 0);
  const leastDof = Math.min(
    ...smooth.map(({ shape, dof }) =>
      shape === 'normal' ? KNOWN_EXACTLY : (dof ?? KNOWN_EXACTLY),
    ),
  );
  let left = ((24 / 0.551) * NARROW_CHANGE * squares ** 2) / (1 + 2 / leastDof);
  const narrow = new Set<ExactPart>();
  const bounded = parts.filter((one) => !smooth.includes(one));
  for (const one of bounded.sort((a, b) => a.standard_uncertainty - b.standard_uncertainty)) {
    left += EXCESS[one.shape] * one.standard_uncertainty ** 4;
    if (left > 0) narrow.add(one);
  }
  return parts.map((one) => (narrow.has(one) ? { ...one, shape: 'normal' } : one));
}
