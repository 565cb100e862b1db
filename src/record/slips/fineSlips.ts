/** Readings that no ordinary course of the source explains, and one slip does. */
import { median } from 'simple-statistics';
import {
  type Change,
  type CourseFit,
  changedSquares,
  deltasOf,
  leastSquaresAt,
  squaresFor,
} from './courseFit.js';
import type { Entry } from './entries.js';
import { explains } from './explains.js';
import { FAR } from './grossSlips.js';
import { COLD, ordinaryCourses } from './ordinaryCourses.js';
import { digitRepairs, lapRepairs, pointRepairs, type Repair, zeroRepairsOf } from './repairs.js';
import { bestFits, type Scene, sceneOf } from './scene.js';
import { settleGross } from './settleGross.js';
import { wildEntry } from './wildEntry.js';

/**
 * By how much a slip has to describe the series better than every ordinary course, and how many
 * standard deviations away the entry has to lie as typed.
 */
const READING = { gain: 10, sigmas: 4 } as const;
/** Where the other zeros, or the peak, speak already, less is asked of the readings. */
const SEEN = { gain: 0, sigmas: 2 } as const;

export interface Judged {
  readonly repairs: readonly Repair[];
  /** ln of the readings with all repairs made; `null` for one that no slip explains. */
  readonly mended: readonly (number | null)[];
}

/**
 * Looks for one slip after the other, the one that explains most first. `gross`: the slips that are
 * undone to begin with; they are settled at the end, when all others are known.
 */
export function fineSlips(
  entries: readonly Entry[],
  gross: readonly Repair[],
  courses = ordinaryCourses,
): Judged {
  const found: Repair[] = [];
  const most = Math.max(2, Math.floor(entries.length / 3));
  for (let round = 0; round < most; round += 1) {
    const mended = mend(entries, [...gross, ...found]);
    const scene = sceneOf(entries, mended, courses);
    const next = scene === null ? null : bestRepair(entries, scene, [...gross, ...found]);
    if (next === null) break;
    found.push(next);
  }
  const scene =
    gross.length === 0 ? null : sceneOf(entries, mend(entries, [...gross, ...found]), courses);
  const repairs = [...settleGross(entries, gross, scene), ...found];
  return { repairs, mended: mend(entries, repairs) };
}

function mend(entries: readonly Entry[], repairs: readonly Repair[]): (number | null)[] {
  const mended: (number | null)[] = entries.map((entry) => entry.y);
  for (const { changes, likely } of repairs) {
    for (const { index, y } of changes) mended[index] = likely === null ? null : y;
  }
  return mended;
}

function bestRepair(
  entries: readonly Entry[],
  scene: Scene,
  made: readonly Repair[],
): Repair | null {
  const { active, y, fits, floor } = scene;
  const place = new Map(active.map((index, at) => [index, at]));
  const touched = new Set(made.flatMap(({ changes }) => changes.map(({ index }) => index)));
  const level = groupLevels(entries, scene);
  const within = [READING, SEEN].map(({ gain }) =>
    fits.map((fit) => squaresFor(fit, scene.cost - gain, floor)),
  );
  const zeroRepairs = zeroRepairsOf(entries);
  const ofReading = (index: number) => [
    ...pointRepairs(entries, index),
    ...digitRepairs(entries, index),
  ];
  const candidates = [
    ...active.flatMap((index, at) => [
      // Where no change of this reading helps any course, none of its repairs does.
      ...(peakContradicts(entries[index]!) ||
      fits.some((fit, i) => leastSquaresAt(fit, at) <= within[0]![i]!)
        ? ofReading(index)
        : []),
      ...zeroRepairs(index),
    ]),
    ...lapRepairs(entries),
  ].filter(({ changes }) => changes.every(({ index }) => place.has(index) && !touched.has(index)));
  const scored = candidates.flatMap((repair) => {
    const near = ({ index, y: to }: Change) =>
      Math.abs(to - level.get(entries[index]!.group)!) < FAR;
    if (!repair.changes.every(near)) return [];
    const changes = repair.changes.map(({ index, y: to }) => ({ index: place.get(index)!, y: to }));
    const seen = speaksForIt(repair, entries);
    if (!seen && mayBeCold(repair, changes, y)) return [];
    // Most repairs help no course, which the squares alone show.
    const deltas = deltasOf(changes, y);
    const most = within[seen ? 1 : 0]!;
    if (!fits.some((fit, i) => changedSquares(fit, deltas) <= most[i]!)) return [];
    const early = repair.kind === 'digits' || repair.kind === 'exchanged';
    const usable = early && changes.some(({ index }) => index < 2) ? fits.filter(isNotEarly) : fits;
    const best = bestFits(scene, usable, changes);
    const { gain, sigmas } = seen ? SEEN : READING;
    const cost = best[0]?.cost ?? Number.POSITIVE_INFINITY;
    if (scene.cost - cost < gain) return [];
    if (!best.some(({ fit }) => explains(fit, y, changes, { floor, sigmas }))) return [];
    return [{ repair, cost: cost - (READING.gain - gain) }];
  });
  const best = scored.sort((a, b) => a.cost - b.cost)[0];
  return best?.repair ?? wildEntry(entries, scene, touched);
}

/** Median of each group, so that hopeless repairs need no fit. */
function groupLevels(entries: readonly Entry[], { active, y }: Scene): ReadonlyMap<number, number> {
  const groups = new Set(active.map((index) => entries[index]!.group));
  return new Map(
    [...groups].map((group) => [
      group,
      median(y.filter((_, at) => entries[active[at]!]!.group === group)),
    ]),
  );
}

/** Beside a slip of the first runs no cold start counts: together they would explain anything. */
const isNotEarly = (fit: CourseFit) => !fit.course.early;

/** A zero that stands apart from the others, or a reading that its peak contradicts. */
function speaksForIt({ quantity, changes, kind }: Repair, entries: readonly Entry[]): boolean {
  if (quantity === 'zero') return true;
  const entry = entries[changes[0]!.index]!;
  if (kind === 'exchanged' || !peakContradicts(entry)) return false;
  // A peak that equals its reading can differ from it by the noise of the arithmetic.
  return changes[0]!.y <= Math.log(entry.run.peak_mW ?? 0) + 1e-9;
}

const peakContradicts = ({ run }: Entry) => run.peak_mW !== null && run.peak_mW < run.reading_mW;

/** Two digits exchanged in the first run look no different from a cold start. */
function mayBeCold(repair: Repair, changes: readonly Change[], y: readonly number[]): boolean {
  const [only] = changes;
  if (repair.kind !== 'digits' || only === undefined || only.index > 0) return false;
  const off = y[0]! - only.y;
  return off >= COLD[0] && off <= COLD[1];
}
