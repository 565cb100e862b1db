import { argumentWrong } from '../error.js';
import { firstMeter } from '../record/laps.js';
import { requireShape } from '../statistics/shapes.js';
import type { MeterRole, RunOrder } from '../vocabulary.js';

/** Every order, from the simplest to the one that cancels most. */
export const RUN_ORDERS: readonly RunOrder[] = [
  'reference-first',
  'candidate-first',
  'ABBA',
  'ABBA-BAAB',
];

/** Laps after which an order repeats; its drift cancels over whole blocks only. */
export const BLOCK_LAPS: Readonly<Record<RunOrder, number>> = {
  'reference-first': 1,
  'candidate-first': 1,
  ABBA: 2,
  'ABBA-BAAB': 4,
};

/**
 * Which meter is in the beam at each run of a series? Two runs a lap; A is the reference.
 *
 * @throws argument-wrong unless `laps` is a whole number of at least 1
 */
export function runOrder(order: RunOrder, laps: number): readonly MeterRole[] {
  requireShape(order, 'An order', RUN_ORDERS);
  requireLaps(laps);
  return Array.from({ length: laps }, (_, i): readonly MeterRole[] =>
    firstMeter(order, i + 1) === 'reference'
      ? ['reference', 'candidate']
      : ['candidate', 'reference'],
  ).flat();
}

/** Laps rounded up to whole blocks of an order. */
export function wholeBlocks(order: RunOrder, laps: number): number {
  requireLaps(laps);
  return Math.ceil(laps / BLOCK_LAPS[order]) * BLOCK_LAPS[order];
}

export function requireLaps(laps: number): void {
  if (!Number.isSafeInteger(laps) || laps < 1) {
    throw argumentWrong('Laps must be a whole number.', laps, 'a whole number of 1 or more');
  }
}
