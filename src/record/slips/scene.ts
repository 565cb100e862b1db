/** The readings of a series, as mended so far, against every ordinary course. */
import { extremes } from '../../statistics/summary.js';
import {
  type Change,
  type CourseFit,
  changedSquares,
  costOf,
  courseCost,
  deltasOf,
  fitCourse,
  isOrdinary,
} from './courseFit.js';
import type { Entry } from './entries.js';
import { ordinaryCourses, secondHops } from './ordinaryCourses.js';

/** No reading is known better than to a thousandth. */
const FINEST = 0.001;
/** Courses that are worse than the best by no more than this count as well. */
const AS_GOOD = 4;

export interface Scene {
  /** Places, in the list of entries, of those that still count. */
  readonly active: readonly number[];
  /** ln of their readings. */
  readonly y: readonly number[];
  readonly fits: readonly CourseFit[];
  /** Variance below which no reading of the displays is known, relative. */
  readonly floor: number;
  /** Cost of the best ordinary course. */
  readonly cost: number;
}

export interface CostedFit {
  readonly fit: CourseFit;
  readonly cost: number;
}

/** `mended`: ln of the readings, `null` where an entry counts no more. `null`: too few of them. */
export function sceneOf(
  entries: readonly Entry[],
  mended: readonly (number | null)[],
  courses = ordinaryCourses,
): Scene | null {
  const active = entries.flatMap((_, index) => (mended[index] === null ? [] : [index]));
  const y = active.map((index) => mended[index]!);
  const groups = active.map((index) => entries[index]!.group);
  const steps = active.map((index) => {
    const { shown, places } = entries[index]!;
    return (10 ** -places / shown) ** 2 / 12;
  });
  const floor = steps.reduce((sum, step) => sum + step, 0) / steps.length + FINEST ** 2;
  const single = courses(groups).map((course) => fitCourse(course, y));
  if (single.length === 0) return null;
  const first = single
    .filter((fit) => fit.course.hop !== null && isOrdinary(fit))
    .sort((a, b) => a.squares - b.squares)[0]?.course.hop;
  // Two hops count for the readings as typed only: with a slip beside them they explain anything.
  const double = secondHops(groups, first ?? 0, y);
  const costs = [
    ...single.filter((fit) => isOrdinary(fit)).map((fit) => costOf(fit, fit.squares, floor)),
    ...double.map((left) => courseCost(y.length, left, floor)),
  ];
  return { active, y, fits: single, floor, cost: extremes(costs)[0] };
}

/** The best course for changed readings (places among the active), and those about as good. */
export function bestFits(
  { y, floor }: Scene,
  fits: readonly CourseFit[],
  changes: readonly Change[],
): readonly CostedFit[] {
  const deltas = deltasOf(changes, y);
  const costed = fits
    .filter((fit) => isOrdinary(fit, deltas))
    .map((fit) => ({ fit, cost: costOf(fit, changedSquares(fit, deltas), floor) }))
    .sort((a, b) => a.cost - b.cost);
  return costed.filter(({ cost }) => cost <= costed[0]!.cost + AS_GOOD);
}
