/** What a source does without anybody's slip. */
import { inner, ownParts, takeOut } from '../../statistics/orthonormal.js';

/** One way in which readings may go, as an orthonormal basis over the runs. */
export interface Course {
  /** Columns of the basis, each one number a run. */
  readonly basis: readonly (readonly number[])[];
  /** What a change of one reading leaves in what remains of it, one number a run: 1 − leverage. */
  readonly own: readonly number[];
  /** The last column's coefficient is (last basis · y) / `scale`, and has to stay within `bounds`. */
  readonly scale: number;
  readonly bounds: readonly [number, number] | null;
  /** Where the source hops to another level; `null` for a course without a hop. */
  readonly hop: number | null;
  /** Whether it says something about the first runs alone. */
  readonly early: boolean;
  /** Coefficients, those included that were chosen from a list. */
  readonly coefficients: number;
}

/** Cold starts: first readings low by up to 38 %, or high by up to 35 %. */
export const COLD = [Math.log(0.62), Math.log(1.35)] as const;
/** What is left of it in the second run. */
const COLD_DECAYS = [0, 0.35, 0.7, 1];
/** Droop or rise while warming, up to a third, over so many runs. */
const WARMING = [-0.4, 0.4] as const;
const WARMING_RUNS = [2, 4, 8];
/** Up to so many runs it is much like a cold start. */
const EARLY_RUNS = 2;
/** A hop of the source to another level, up to 35 %, and at most so many places looked at. */
const HOP = [-0.3, 0.3] as const;
const HOP_PLACES = 40;
/** Degrees of freedom that a course has to leave. */
const LEAST_FREE = 3;

/**
 * The ordinary courses for runs of the given groups (numbers from 0, in the order of time): a level
 * for each group, and for all in common a polynomial, a droop or rise while warming, a cold start of
 * one or two runs, or a hop.
 */
export function ordinaryCourses(groups: readonly number[]): Course[] {
  const n = groups.length;
  const column = (value: (i: number) => number) => filled(n, value);
  const t = (i: number) => (n < 2 ? 0 : (2 * i) / (n - 1) - 1);
  const power = (degree: number) => column((i) => t(i) ** degree);
  const cold = (decay: number) => column((i) => (i === 0 ? 1 : i === 1 ? decay : 0));
  const warming = (runs: number) => column((i) => Math.exp(-i / runs));
  const level = groupLevels(groups).reduce<Basis | null>(extended, NOTHING);
  const linear = extended(level, power(1));
  const square = extended(linear, power(2));
  const cube = extended(square, power(3));
  const places = Array.from({ length: Math.max(0, n - 3) }, (_, i) => i + 2);
  const stride = Math.ceil(places.length / HOP_PLACES);
  return [
    ...[level, linear, square, ...(n >= 14 ? [cube] : [])].map((basis) => course(basis, PLAIN)),
    ...WARMING_RUNS.map((runs) =>
      course(extended(linear, warming(runs)), {
        bounds: WARMING,
        early: runs <= EARLY_RUNS,
        hop: null,
      }),
    ),
    ...COLD_DECAYS.flatMap((decay) =>
      [level, linear, square].map((basis) =>
        course(extended(basis, cold(decay)), { bounds: COLD, early: true, hop: null }),
      ),
    ),
    ...places
      .filter((_, i) => i % stride === 0)
      .map((place) =>
        course(extended(linear, hop(n, place)), {
          bounds: HOP,
          early: place <= EARLY_RUNS,
          hop: place,
        }),
      ),
  ].filter((one) => one !== null);
}

/** `ordinaryCourses` that keeps what it found: most series of a study have their runs in the same order. */
export function keptCourses(): typeof ordinaryCourses {
  const known = new Map<string, Course[]>();
  return (groups) => {
    const order = groups.join();
    const courses = known.get(order) ?? ordinaryCourses(groups);
    known.set(order, courses);
    return courses;
  };
}

/**
 * The squares that remain with a second hop beside the one at `first`, for every ordinary one at a
 * place that leaves two runs between them. What a hop has in common with the rest is a sum over the
 * runs after it, so all places together are one pass over the runs.
 *
 * @param y ln of the readings
 */
export function secondHops(
  groups: readonly number[],
  first: number,
  y: readonly number[],
): { readonly squares: number; readonly free: number; readonly coefficients: number }[] {
  const n = groups.length;
  const start = extended(
    groupLevels(groups).reduce<Basis | null>(extended, NOTHING),
    hop(n, first),
  );
  if (start === null || n - start.columns.length - 1 < LEAST_FREE) return [];
  const basis = start.columns;
  const rest = [...y];
  for (const unit of basis) takeOut(rest, unit);
  const all = inner(rest, rest);
  const coefficients = basis.length + 2;
  const found: ReturnType<typeof secondHops> = [];
  const after = basis.map(() => 0);
  let sum = 0;
  for (let place = n - 1; place >= 2; place -= 1) {
    sum += rest[place]!;
    basis.forEach((unit, k) => {
      after[k]! += unit[place]!;
    });
    if (place > n - 2 || Math.abs(place - first) < 2) continue;
    const own = n - place - inner(after, after);
    const height = sum / own;
    if (own < LEAST_OWN ** 2 || height < HOP[0] || height > HOP[1]) continue;
    found.push({
      squares: Math.max(0, all - sum * height),
      free: n - basis.length - 1,
      coefficients,
    });
  }
  return found;
}

const hop = (n: number, place: number): number[] => filled(n, (i) => (i < place ? 0 : 1));

function filled(n: number, value: (i: number) => number): number[] {
  const column = new Array<number>(n);
  for (let i = 0; i < n; i += 1) column[i] = value(i);
  return column;
}

/** One column for each group. */
function groupLevels(groups: readonly number[]): number[][] {
  const names = [...new Set(groups)];
  return names.map((name) => filled(groups.length, (i) => (groups[i] === name ? 1 : 0)));
}

interface Basis {
  readonly columns: readonly (readonly number[])[];
  /** Length of the last column before it was brought to one. */
  readonly scale: number;
}

const NOTHING: Basis = { columns: [], scale: 0 };
/** A column with less of its own depends on the others. */
const LEAST_OWN = 1e-6;

/** Gram and Schmidt, one column more; `null` when it depends on the others. */
function extended(basis: Basis | null, column: readonly number[]): Basis | null {
  if (basis === null) return null;
  const rest = [...column];
  for (const unit of basis.columns) takeOut(rest, unit);
  const scale = Math.sqrt(inner(rest, rest));
  if (scale < LEAST_OWN) return null;
  for (let i = 0; i < rest.length; i += 1) rest[i]! /= scale;
  return { columns: [...basis.columns, rest], scale };
}

type Traits = Pick<Course, 'bounds' | 'early' | 'hop'>;
const PLAIN: Traits = { bounds: null, early: false, hop: null };

/** `null` when too little is left. */
function course(basis: Basis | null, traits: Traits): Course | null {
  if (basis === null) return null;
  const { columns, scale } = basis;
  const n = columns[0]?.length ?? 0;
  if (n - columns.length < LEAST_FREE) return null;
  const coefficients = columns.length + (traits.bounds === null ? 0 : 1);
  return { basis: columns, own: ownParts(columns, n), scale, ...traits, coefficients };
}
