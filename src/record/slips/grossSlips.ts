/** Readings that are off by powers of ten, found before any course is fitted. */
import { median } from 'simple-statistics';
import type { Entry } from './entries.js';
import { digitRepairs, pointRepairs, type Repair, zeroRepairsOf } from './repairs.js';

/** Farther from its group than any source goes within a series. */
export const FAR = Math.log(3);
/** A mended reading is this near: cold starts and droop included. */
const NEAR = Math.log(1.8);
/** Two digits exchanged count before another decimal place where they are nearer by this. */
const CLEARLY = Math.log(1.2);
/** Two meters that differ by more are not in one unit. */
const ABSURD = Math.log(30);
/** From so many entries on, a group has a level of its own. */
const OWN_LEVEL = 3;

/** At most one repair for each entry that stands far from the median of its group. */
export function grossSlips(entries: readonly Entry[]): Repair[] {
  if (entries.length < 3) return [];
  const levels = groupLevels(entries);
  const zeroRepairs = zeroRepairsOf(entries);
  return entries.flatMap((entry, index) => {
    const level = levels.get(entry.group)!;
    if (Math.abs(entry.y - level) <= FAR) return [];
    const off = (repair: Repair) => Math.abs(repair.changes[0]!.y - level);
    const nearest = (repairs: readonly Repair[]) =>
      repairs.filter((repair) => off(repair) <= NEAR).sort((a, b) => off(a) - off(b))[0];
    // A zero is in the list only where the other zeros speak for it.
    const zero = nearest(zeroRepairs(index));
    const point = nearest(pointRepairs(entries, index));
    const digits = nearest(digitRepairs(entries, index));
    if (zero !== undefined) return zero;
    if (point === undefined || digits === undefined) return point ?? digits ?? [];
    return off(point) > off(digits) + CLEARLY ? digits : point;
  });
}

function groupLevels(entries: readonly Entry[]): ReadonlyMap<number, number> {
  const all = median(entries.map((entry) => entry.y));
  const groups = [...new Set(entries.map((entry) => entry.group))];
  const own = new Map(
    groups.map((group) => {
      const ys = entries.filter((entry) => entry.group === group).map((entry) => entry.y);
      return [group, ys.length < OWN_LEVEL ? all : median(ys)];
    }),
  );
  // Where most of one meter's entries are in another unit, the few that are not have the level.
  return new Map(
    groups.map((group) => {
      const level = own.get(group)!;
      const others = groups.filter((one) => one !== group).map((one) => own.get(one)!);
      const near = others.find(
        (other) =>
          Math.abs(other - level) > ABSURD &&
          entries.some((entry) => entry.group === group && Math.abs(entry.y - other) < FAR),
      );
      return [group, near ?? level];
    }),
  );
}
