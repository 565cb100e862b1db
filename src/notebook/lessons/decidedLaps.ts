import { lapPairs } from '../../series/lapPairs.js';
import { seededRandom } from '../../statistics/random.js';
import type { Series } from '../../vocabulary.js';
import type { DecidedLap } from './leaveOut.js';

/** Something that happens to a candidate run now and then, and that everybody at the bench sees. */
export interface Knock {
  /** Chance that it happens in a lap. */
  readonly probability: number;
  /** The candidate's reading changes by this fraction; negative: it reads low. */
  readonly change: number;
}

/**
 * The laps of series as somebody has them who may leave some out. With `knock`, now and then the
 * candidate's head is knocked, and a note says so.
 *
 * @param options.seed of the knocks
 */
export function decidedLaps(
  list: readonly Series[],
  options: { readonly knock?: Knock; readonly seed?: number } = {},
): readonly (readonly DecidedLap[])[] {
  const { knock } = options;
  const random = seededRandom(options.seed ?? 1);
  return list.map((series) =>
    lapPairs(series).map(({ reference, candidate }) => {
      const knocked = knock !== undefined && random.uniform() < knock.probability;
      const reading = candidate.reading_mW * (knocked ? 1 + knock.change : 1);
      return {
        log: Math.log(reference.reading_mW / reading),
        note: knocked ? 'head knocked' : null,
      };
    }),
  );
}
