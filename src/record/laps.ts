/** Laps: which runs stand next to each other, and which meter goes first. */
import type { MeterRole, RunOrder } from '../vocabulary.js';

/** First meter of lap 1, 2, 3 … of each order; the pattern repeats. */
const FIRST: Readonly<Record<RunOrder, readonly MeterRole[]>> = {
  'reference-first': ['reference'],
  'candidate-first': ['candidate'],
  ABBA: ['reference', 'candidate'],
  'ABBA-BAAB': ['reference', 'candidate', 'candidate', 'reference'],
};

/** The meter that goes first in a lap (counted from 1) under an order. A is the reference. */
export function firstMeter(order: RunOrder, lap: number): MeterRole {
  const pattern = FIRST[order];
  return pattern[(lap - 1) % pattern.length] ?? 'reference';
}

/**
 * Lap number of every run of a series, in the order of the runs: two neighbours of different meters
 * make a lap, counted from 1; a run whose next free neighbour is of its own meter has none (`null`).
 */
export function lapNumbers(meters: readonly MeterRole[]): (number | null)[] {
  const laps: (number | null)[] = [];
  let lap = 0;
  while (laps.length < meters.length) {
    const here = meters[laps.length];
    const next = meters[laps.length + 1];
    if (next !== undefined && next !== here) {
      lap += 1;
      laps.push(lap, lap);
    } else {
      laps.push(null);
    }
  }
  return laps;
}
