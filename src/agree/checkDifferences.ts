import { argumentWrong } from '../error.js';
import { requireNumbers } from '../statistics/shapes.js';

/** Refuses values whose squares could overflow, so that no result is infinite. @throws argument-wrong. */
export function checkDifferences(values: readonly number[]): void {
  requireNumbers(values, 'Differences');
  const wrong = values.find((value) => !(Math.abs(value) <= 1e150));
  if (wrong !== undefined) {
    throw argumentWrong('Differences must be finite numbers.', wrong, 'at most 1e150 in size');
  }
}
