import { argumentWrong } from '../error.js';
import { firstMeter } from '../record/index.js';
import type { MeterRole, RunOrder } from '../vocabulary.js';

/**
 * Which meter is in the beam at each run of a series? Two runs a lap.
 *
 * @throws argument-wrong when `laps` is not a whole number of at least one.
 */
export function metersInOrder(order: RunOrder, laps: number): readonly MeterRole[] {
  if (!Number.isSafeInteger(laps) || laps < 1) {
    throw argumentWrong('Laps must be a whole number.', laps, 'a whole number of 1 or more');
  }
  const meters: MeterRole[] = [];
  for (let lap = 1; lap <= laps; lap++) {
    const first = firstMeter(order, lap);
    meters.push(first, first === 'reference' ? 'candidate' : 'reference');
  }
  return meters;
}
