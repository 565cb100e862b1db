import { failure } from '../error.js';
import { requireAsMany, requireNumbers, requireRecord } from '../statistics/shapes.js';
import { checkDifferences } from './checkDifferences.js';

/** Readings of both meters on the same thing, in the same order. */
export interface PairedReadings {
  readonly reference: readonly number[];
  readonly candidate: readonly number[];
}

/** Refuses pairs of unequal number or fewer than `least`. @throws argument-wrong, too-few-values. */
export function requirePairs(pairs: PairedReadings, least: number, what: string): void {
  requireRecord(pairs, 'Pairs of readings', ['reference', 'candidate']);
  requireNumbers(pairs.reference, 'Readings of the reference');
  requireNumbers(pairs.candidate, 'Readings of the candidate');
  const message = 'Both meters must have the same number of readings.';
  requireAsMany(pairs.reference, pairs.candidate, message);
  checkDifferences(pairs.reference);
  checkDifferences(pairs.candidate);
  if (pairs.reference.length < least) {
    throw failure(
      'too-few-values',
      `${what} needs at least ${least} pairs.`,
      pairs.reference.length,
    );
  }
}
