import { type ChebyshevTail, tailAt } from '../statistics/chebyshevTail.js';
import { KNOWN_EXACTLY } from '../vocabulary.js';
import {
  arcsineTail,
  rectangleTail,
  tabulated,
  withArcsine,
  withRectangle,
} from './boundedTail.js';
import type { ExactPart } from './exactPart.js';
import { mixtureTail, type ScaledStudent, varianceMixture } from './varianceMixture.js';

/** Probability beyond which a tail is no longer tabulated. */
const FAR = 1e-9;

/** A part that adds no more than this to the variance changes the shape of a smooth sum little. */
const LITTLE = 0.1;

/** Q(x) for x ≥ 0, and about the standard deviation. */
export interface UpperTail {
  readonly tail: (x: number) => number;
  readonly scale: number;
}

/**
 * The upper tail of a sum of parts.
 *
 * @param parts at least one; the largest standard uncertainty is 1, none is zero
 */
export function upperTail(parts: readonly ExactPart[]): UpperTail {
  const halves = (shape: ExactPart['shape'], factor: number): number[] =>
    parts.filter((part) => part.shape === shape).map((part) => part.standard_uncertainty * factor);
  const triangles = halves('triangular', Math.sqrt(6) / 2);
  const rectangles = [...halves('rectangular', Math.sqrt(3)), ...triangles, ...triangles];
  rectangles.sort((a, b) => a - b);
  const arcsines = halves('arcsine', Math.SQRT2).sort((a, b) => a - b);
  const smooth = unbounded(parts);
  if (smooth !== null && rectangles.length + arcsines.length === 0) return smooth;
  const widest = rectangles.pop();
  let table: ChebyshevTail | null = null;
  let scale = 0;
  let end = 0;
  let decay = Number.POSITIVE_INFINITY;
  const tabulate = (tail: (x: number) => number, wider: number, reach: number): void => {
    const like = smooth !== null && wider ** 2 <= LITTLE * scale ** 2 ? table : null;
    scale = Math.hypot(scale, wider);
    end += reach;
    table = tabulated(tail, scale, end, decay, like);
  };
  if (smooth !== null) {
    decay = smooth.decay;
    tabulate(smooth.tail, smooth.scale, smooth.end);
  }
  for (const half of arcsines) {
    tabulate(table === null ? arcsineTail(half) : withArcsine(table, half), half, half);
  }
  for (const half of rectangles) {
    tabulate(table === null ? rectangleTail(half) : withRectangle(table, half), half, half);
  }
  const last = table as ChebyshevTail | null;
  if (widest === undefined) {
    // There is a table: some part is not zero, and no rectangle.
    return { tail: (x) => tailAt(last as ChebyshevTail, x), scale };
  }
  return {
    tail: last === null ? rectangleTail(widest) : withRectangle(last, widest),
    scale: Math.hypot(scale, widest),
  };
}

/** Normal and Student parts together, and an x beyond which Q is below `FAR`; `null` when there are none. */
function unbounded(
  parts: readonly ExactPart[],
): (UpperTail & { readonly end: number; readonly decay: number }) | null {
  const known = ({ shape, dof = KNOWN_EXACTLY }: ExactPart): boolean =>
    shape === 'normal' || (shape === 'student' && dof >= KNOWN_EXACTLY);
  const sigma = Math.hypot(...parts.filter(known).map((part) => part.standard_uncertainty));
  const students = parts
    .filter((part) => part.shape === 'student' && !known(part))
    .map(
      (part): ScaledStudent => ({
        scale: part.standard_uncertainty,
        dof: part.dof ?? KNOWN_EXACTLY,
      }),
    );
  if (sigma === 0 && students.length === 0) return null;
  const mixture = varianceMixture(sigma, students);
  const tail = mixtureTail(mixture);
  const scale = Math.hypot(sigma, ...students.map((student) => student.scale));
  let end = 4 * scale;
  while (tail(end) > FAR) end *= 3;
  const decay = Math.min(Number.POSITIVE_INFINITY, ...students.map((student) => student.dof));
  return { tail, scale, end, decay };
}
