/** How well a course describes readings, as typed and with single entries changed. */
import { inner, takeOut } from '../../statistics/orthonormal.js';
import type { Course } from './ordinaryCourses.js';

export interface CourseFit {
  readonly course: Course;
  /** What remains of each reading, in ln. */
  readonly rest: readonly number[];
  readonly squares: number;
  /** Degrees of freedom. */
  readonly free: number;
  /** (last basis · y). */
  readonly last: number;
}

export interface Change {
  readonly index: number;
  readonly y: number;
}

export interface Delta {
  readonly index: number;
  readonly delta: number;
}

/** Least squares, through the basis. */
export function fitCourse(course: Course, y: readonly number[]): CourseFit {
  const rest = [...y];
  let last = 0;
  for (const unit of course.basis) last = takeOut(rest, unit);
  return { course, rest, squares: inner(rest, rest), free: y.length - course.basis.length, last };
}

/** Entry (a, b) of the matrix that turns readings into what remains of them. */
export function restMatrix({ basis, own }: Course, a: number, b: number): number {
  if (a === b) return own[a]!;
  let sum = 0;
  for (const unit of basis) sum -= unit[a]! * unit[b]!;
  return sum;
}

/** How far the readings move by these changes. */
export const deltasOf = (changes: readonly Change[], y: readonly number[]): readonly Delta[] =>
  changes.map(({ index, y: to }) => ({ index, delta: to - y[index]! }));

/** The squares that remain once one or two readings are changed; no new fit is needed. */
export function changedSquares(fit: CourseFit, deltas: readonly Delta[]): number {
  let squares = fit.squares;
  for (const a of deltas) {
    squares += 2 * a.delta * fit.rest[a.index]!;
    for (const b of deltas) squares += a.delta * b.delta * restMatrix(fit.course, a.index, b.index);
  }
  return Math.max(0, squares);
}

/** No change of this one reading leaves fewer squares; a little less for the rounding. */
export function leastSquaresAt({ course, rest, squares }: CourseFit, index: number): number {
  const own = course.own[index]!;
  // A course that follows the reading on its own is no worse whatever stands there.
  if (own < 1e-9) return 0;
  return squares - rest[index]! ** 2 / own - 1e-9 * squares;
}

/** Whether the last coefficient stays within what an ordinary source does. */
export function isOrdinary({ course, last }: CourseFit, deltas: readonly Delta[] = []): boolean {
  if (course.bounds === null) return true;
  const unit = course.basis.at(-1)!;
  const moved = deltas.reduce((sum, { index, delta }) => sum + delta * unit[index]!, last);
  const coefficient = moved / course.scale;
  return coefficient >= course.bounds[0] && coefficient <= course.bounds[1];
}

/**
 * The smaller the better: n·ln s² with a charge of 2 for each coefficient, s² the remaining variance.
 * `floor`: variance below which no reading can be known.
 */
export function costOf(fit: CourseFit, squares: number, floor: number, lost = 0): number {
  const coefficients = fit.course.coefficients + lost;
  return courseCost(fit.rest.length, { squares, free: fit.free - lost, coefficients }, floor);
}

/** The same from the figures of a course, for `n` readings. */
export function courseCost(
  n: number,
  left: { readonly squares: number; readonly free: number; readonly coefficients: number },
  floor: number,
): number {
  return n * Math.log(left.squares / left.free + floor) + 2 * left.coefficients;
}

/** The squares from which on a fit costs more than `most`; a little more for the rounding. */
export function squaresFor({ rest, free, course }: CourseFit, most: number, floor: number): number {
  const variance = Math.exp((most - 2 * course.coefficients) / rest.length) - floor;
  return free * (variance + 1e-9 * Math.abs(variance)) + Number.MIN_VALUE;
}
