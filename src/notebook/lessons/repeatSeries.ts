import { argumentWrong } from '../../error.js';
import { simulateSeries } from '../../simulate/bench.js';
import type { BenchOptions } from '../../simulate/benchOptions.js';
import { seededRandom } from '../../statistics/random.js';
import type { Series } from '../../vocabulary.js';

/**
 * The same comparison many times over: the bench stays as it is, chance does not.
 *
 * @param options.times how often, a whole number from 1
 * @returns one series each; the same seed gives the same list, and a longer list begins like a
 *   shorter one
 * @throws argument-wrong as `simulateSeries`, or for a number that is not whole
 */
export function repeatSeries(options: {
  readonly bench: BenchOptions;
  readonly times: number;
  readonly seed: number;
}): readonly Series[] {
  if (!Number.isSafeInteger(options.times) || options.times < 1) {
    throw argumentWrong('Times must be a whole number.', options.times, '1 or more');
  }
  const random = seededRandom(options.seed);
  return Array.from({ length: options.times }, () => simulateSeries(options.bench, random).series);
}
