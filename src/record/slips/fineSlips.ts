/** Readings that no ordinary course of the source explains, and one slip does. */
import type { Change, CourseFit } from './courseFit.js';
import { changedSquares, costOf, fitCourse, isOrdinary, restMatrix } from './courseFit.js';
import type { Entry } from './entries.js';
import { COLD, ordinaryCourses } from './ordinaryCourses.js';
import type { Repair } from './repairs.js';
import { digitRepairs, lapRepairs, pointRepairs, zeroRepairs } from './repairs.js';

/**
 * By how much a slip has to describe the series better than every ordinary course, and how many
 * standard deviations away the entry has to lie as typed.
 */
const READING = { gain: 8, sigma: 4.5 } as const;
/** The other zeros speak already: less is asked of the readings. */
const ZERO = { gain: 0, sigma: 3 } as const;
/** A mended entry lies within so many standard deviations of where its neighbours put it. */
const MENDED_SIGMA = 3;
const LEAST = Math.log(1.06);
/** What no slip explains has to be far beyond a hop or a cold start, and beyond the scatter. */
const WILD = { sigma: 8, least: Math.log(1.5), gain: 16 } as const;
/** No reading is known better than to a thousandth. */
const FINEST = 0.001;

export interface Judged {
  /** Repairs in the order in which they were found. */
  readonly repairs: readonly Repair[];
  /** The readings with all repairs made; `null` for one that no slip explains. */
  readonly mended: readonly (number | null)[];
}

/**
 * Looks for one slip after the other, the one that explains most first, and starts from `begun`:
 * the gross slips that are undone already.
 */
export function fineSlips(entries: readonly Entry[], begun: readonly Repair[]): Judged {
  const mended: (number | null)[] = entries.map((entry) => entry.y);
  const repairs = [...begun];
  for (const repair of begun) apply(repair, mended);
  const most = Math.max(2, Math.floor(entries.length / 3));
  for (let round = 0; round < most; round += 1) {
    const next = bestRepair(entries, mended, repairs);
    if (next === null) break;
    apply(next, mended);
    repairs.push(next);
  }
  return { repairs, mended };
}

function apply(repair: Repair, mended: (number | null)[]): void {
  for (const { index, y } of repair.changes) {
    mended[index] = repair.likely === null ? null : y;
  }
}

/** Beside a slip of the first runs no cold start counts: together they would explain anything. */
const isNotEarly = (fit: CourseFit) => !fit.course.early;

/** Two digits exchanged in the first run look no different from a cold start. */
function mayBeCold(repair: Repair, changes: readonly Change[], y: readonly number[]): boolean {
  const [only] = changes;
  if (repair.kind !== 'digits' || only === undefined || only.index > 0) return false;
  const off = y[0]! - only.y;
  return off >= COLD[0] && off <= COLD[1];
}

interface Scored {
  readonly repair: Repair;
  readonly cost: number;
}

function bestRepair(
  entries: readonly Entry[],
  mended: readonly (number | null)[],
  made: readonly Repair[],
): Repair | null {
  const active = entries.flatMap((_, index) => (mended[index] === null ? [] : [index]));
  const place = new Map(active.map((index, at) => [index, at]));
  const y = active.map((index) => mended[index]!);
  const fits = ordinaryCourses(active.map((index) => entries[index]!.group)).map((course) =>
    fitCourse(course, y),
  );
  if (fits.length === 0) return null;
  const floor = floorOf(active.map((index) => entries[index]!));
  const asTyped = Math.min(
    ...fits.filter((fit) => isOrdinary(fit)).map((fit) => costOf(fit, fit.squares, floor)),
  );
  const touched = new Set(made.flatMap(({ changes }) => changes.map(({ index }) => index)));
  const candidates = [
    ...active.flatMap((index) => [
      ...pointRepairs(entries, index),
      ...zeroRepairs(entries, index),
      ...digitRepairs(entries, index),
    ]),
    ...lapRepairs(entries),
  ].filter(({ changes }) => changes.every(({ index }) => place.has(index) && !touched.has(index)));
  const scored = candidates.flatMap((repair): Scored[] => {
    const changes = repair.changes.map(({ index, y: to }) => ({ index: place.get(index)!, y: to }));
    if (mayBeCold(repair, changes, y)) return [];
    const early = repair.kind === 'digits' || repair.kind === 'exchanged';
    const best = bestFit(
      early && changes.some(({ index }) => index < 2) ? fits.filter(isNotEarly) : fits,
      y,
      changes,
      floor,
    );
    const wanted = repair.quantity === 'zero' ? ZERO : READING;
    if (best === null || asTyped - best.cost < wanted.gain) return [];
    const cost = best.cost - (READING.gain - wanted.gain);
    return explains(best.fit, y, changes, floor, wanted.sigma) ? [{ repair, cost }] : [];
  });
  const best = scored.sort((a, b) => a.cost - b.cost)[0];
  if (best !== undefined) return best.repair;
  return wildEntry(entries, active, fits, asTyped, floor, touched);
}

function bestFit(
  fits: readonly CourseFit[],
  y: readonly number[],
  changes: readonly Change[],
  floor: number,
): { readonly fit: CourseFit; readonly cost: number } | null {
  const deltas = changes.map(({ index, y: to }) => ({ index, delta: to - y[index]! }));
  let best: { fit: CourseFit; cost: number } | null = null;
  for (const fit of fits) {
    const cost = costOf(fit, changedSquares(fit, deltas), floor);
    if ((best === null || cost < best.cost) && isOrdinary(fit, deltas)) best = { fit, cost };
  }
  return best;
}

/** Whether the entries lie far from their neighbours as typed, and near them once mended. */
function explains(
  { course, rest, free, squares }: CourseFit,
  y: readonly number[],
  changes: readonly Change[],
  floor: number,
  typedSigma: number,
): boolean {
  const deltas = changes.map(({ index, y: to }) => ({ index, delta: to - y[index]! }));
  const after = changedSquares({ course, rest, free, squares, last: 0 }, deltas);
  const moved = rest.map((value, at) =>
    deltas.reduce((sum, { index, delta }) => sum + delta * restMatrix(course, at, index), value),
  );
  const own = changes.map(({ index }) => restMatrix(course, index, index));
  const taken = changes.reduce((sum, { index }, i) => sum + moved[index]! ** 2 / own[i]!, 0);
  const left = free - changes.length;
  const sigma = Math.sqrt(Math.max(0, after - taken) / Math.max(1, left) + floor);
  const far = squaresOf(deltas, course) / deltas.length;
  const most = Math.max(...deltas.map(({ delta }) => Math.abs(delta)));
  return (
    most >= LEAST &&
    Math.sqrt(far) >= (typedSigma / Math.sqrt(deltas.length)) * sigma &&
    changes.every(
      ({ index }, i) => Math.abs(moved[index]!) <= MENDED_SIGMA * sigma * Math.sqrt(own[i]!),
    )
  );
}

/** What the changes alone add to the squares. */
function squaresOf(
  deltas: readonly { readonly index: number; readonly delta: number }[],
  course: CourseFit['course'],
): number {
  let sum = 0;
  for (const a of deltas) {
    for (const b of deltas) sum += a.delta * b.delta * restMatrix(course, a.index, b.index);
  }
  return sum;
}

/** An entry far from both its neighbours that no slip explains. */
function wildEntry(
  entries: readonly Entry[],
  active: readonly number[],
  fits: readonly CourseFit[],
  asTyped: number,
  floor: number,
  touched: ReadonlySet<number>,
): Repair | null {
  let best: { repair: Repair; cost: number } | null = null;
  for (const [at, index] of active.entries()) {
    const { run, shown } = entries[index]!;
    if (run.checked || touched.has(index)) continue;
    for (const fit of fits) {
      const own = restMatrix(fit.course, at, at);
      if (fit.free < 3 || own < 1e-6) continue;
      const off = fit.rest[at]! / own;
      const squares = Math.max(0, fit.squares - off ** 2 * own);
      const sigma = Math.sqrt(squares / (fit.free - 1) + floor);
      const cost = costOf(fit, squares, floor, 1);
      if (Math.abs(off) < WILD.least || Math.abs(off) * Math.sqrt(own) < WILD.sigma * sigma)
        continue;
      if (asTyped - cost < WILD.gain || (best !== null && cost >= best.cost)) continue;
      const changes = [{ index, y: 0 }];
      best = {
        repair: { kind: 'other', quantity: 'reading', changes, found: shown, likely: null },
        cost,
      };
    }
  }
  return best?.repair ?? null;
}

/** Variance below which no reading of a display is known, relative. */
function floorOf(entries: readonly Entry[]): number {
  const steps = entries.map(({ shown, places }) => (10 ** -places / shown) ** 2 / 12);
  return steps.reduce((sum, step) => sum + step, 0) / steps.length + FINEST ** 2;
}
