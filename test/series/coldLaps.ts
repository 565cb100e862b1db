import { seededRandom } from '../../src/statistics/random.js';
import type { Lap } from '../analyse/studies.js';

/** Eight laps at 50 and 45 mW with a scatter of 0.4 %, the first reference run low by a part. */
export function coldLaps(deficit: number, seed: number): Lap[] {
  const random = seededRandom(seed);
  return Array.from({ length: 8 }, (_, i) => ({
    reference: 50 * (1 - (i === 0 ? deficit : 0)) * (1 + 0.004 * random.normal()),
    candidate: 45 * (1 + 0.004 * random.normal()),
  }));
}
