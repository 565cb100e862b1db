import { requireShape } from '../statistics/shapes.js';
import { type ExactPart, requirePart } from './exactPart.js';
import { type ExactDistribution, symmetricDistribution } from './symmetricDistribution.js';
import { upperTail } from './upperTail.js';

/** Parts below this fraction of the largest change nothing that could be seen. */
const NEGLIGIBLE = 1e-8;

/**
 * How is a sum of independent normal, Student, rectangular, triangular and arcsine parts
 * distributed? Accurate to 1e-7 in probability (test/budget/exactDistribution.test.ts).
 *
 * Normal and Student parts make one mixture of normals (`varianceMixture`). Bounded parts follow one
 * by one: a rectangle averages the distribution function over its width, which is exact on
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
  const { tail, end } = upperTail(scaled);
  const oneHump = scaled.every((part) => part.shape !== 'arcsine');
  return symmetricDistribution(tail, end, unit, oneHump);
}
