import { argumentWrong } from '../error.js';
import { requireShape } from '../statistics/shapes.js';

/** One independent part of a sum, symmetric about zero; a sensitivity is taken into u. */
export interface ExactPart {
  readonly shape: 'normal' | 'student' | 'rectangular' | 'triangular' | 'arcsine';
  /**
   * `student`: the scale of t, so the part is u · t with `dof`, as `drawFrom` draws it. The other
   * shapes get the width that gives them the standard deviation u.
   */
  readonly standard_uncertainty: number;
  /** Of `student` only, 1 or more; `KNOWN_EXACTLY` and above: normal. */
  readonly dof?: number;
}

const SHAPES = ['normal', 'student', 'rectangular', 'triangular', 'arcsine'];

/** @throws argument-wrong: see `exactDistribution` */
export function requirePart(part: ExactPart): void {
  requireShape(part.standard_uncertainty, 'A standard uncertainty', 'not-negative');
  requireShape(part.shape, 'The shape of a part', SHAPES);
  if (part.shape === 'student' && !(Number.isFinite(part.dof) && (part.dof ?? 0) >= 1)) {
    throw argumentWrong('Degrees of freedom of a Student part must be 1 or more.', part.dof);
  }
}
