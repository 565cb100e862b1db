/** What a source does without anybody's slip. */

/** One way in which readings may go, as an orthonormal basis over the runs. */
export interface Course {
  /** Columns of the basis, each one number a run. */
  readonly basis: readonly (readonly number[])[];
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
  const levels = groupLevels(groups);
  const t = groups.map((_, i) => (n < 2 ? 0 : (2 * i) / (n - 1) - 1));
  const power = (degree: number) => t.map((x) => x ** degree);
  const cold = (decay: number) => t.map((_, i) => (i === 0 ? 1 : i === 1 ? decay : 0));
  const warming = (runs: number) => t.map((_, i) => Math.exp(-i / runs));
  const hop = (place: number) => t.map((_, i) => (i < place ? 0 : 1));
  const make = (
    columns: readonly (readonly number[])[],
    bounds: Course['bounds'] = null,
    early = false,
    hops: number | null = null,
  ): Course | null => course([...levels, ...columns], { bounds, early, hop: hops });
  const [linear, square, cube] = [power(1), power(2), power(3)];
  const places = Array.from({ length: Math.max(0, n - 3) }, (_, i) => i + 2);
  const stride = Math.ceil(places.length / HOP_PLACES);
  return [
    make([]),
    make([linear]),
    make([linear, square]),
    ...(n >= 14 ? [make([linear, square, cube])] : []),
    ...WARMING_RUNS.map((runs) => make([linear, warming(runs)], WARMING, runs <= EARLY_RUNS)),
    ...COLD_DECAYS.flatMap((decay) => [
      make([cold(decay)], COLD, true),
      make([linear, cold(decay)], COLD, true),
      make([linear, square, cold(decay)], COLD, true),
    ]),
    ...places
      .filter((_, i) => i % stride === 0)
      .map((place) => make([linear, hop(place)], HOP, place <= EARLY_RUNS, place)),
  ].filter((one) => one !== null);
}

/** A second hop beside the one at `first`, at every place that leaves two runs between them. */
export function secondHops(groups: readonly number[], first: number): Course[] {
  const n = groups.length;
  const levels = groupLevels(groups);
  const hop = (place: number) => groups.map((_, i) => (i < place ? 0 : 1));
  return Array.from({ length: Math.max(0, n - 3) }, (_, i) => i + 2)
    .filter((place) => Math.abs(place - first) >= 2)
    .map((place) =>
      course([...levels, hop(first), hop(place)], {
        bounds: HOP,
        early: Math.min(first, place) <= EARLY_RUNS,
        hop: place,
      }),
    )
    .filter((one) => one !== null);
}

/** One column for each group. */
function groupLevels(groups: readonly number[]): number[][] {
  const names = [...new Set(groups)];
  return names.map((name) => groups.map((group) => (group === name ? 1 : 0)));
}

/** Gram and Schmidt; `null` when columns depend on each other or leave too little. */
function course(
  columns: readonly (readonly number[])[],
  traits: Pick<Course, 'bounds' | 'early' | 'hop'>,
): Course | null {
  const n = columns[0]?.length ?? 0;
  const coefficients = columns.length + (traits.bounds === null ? 0 : 1);
  if (n - columns.length < LEAST_FREE) return null;
  const basis: number[][] = [];
  let scale = 0;
  for (const column of columns) {
    const rest = [...column];
    for (const unit of basis) {
      const part = dot(unit, rest);
      for (let i = 0; i < n; i += 1) rest[i]! -= part * unit[i]!;
    }
    scale = Math.sqrt(dot(rest, rest));
    if (scale < 1e-6) return null;
    basis.push(rest.map((value) => value / scale));
  }
  return { basis, scale, ...traits, coefficients };
}

export function dot(a: readonly number[], b: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < a.length; i += 1) sum += a[i]! * b[i]!;
  return sum;
}
