/** The same comparison many times over, in one workshop or in many. */
import { argumentWrong } from '../../error.js';
import { simulateSeries } from '../../simulate/bench.js';
import type { BenchOptions } from '../../simulate/benchOptions.js';
import { seededRandom } from '../../statistics/random.js';
import type { Series } from '../../vocabulary.js';

/** A bench without a fault: two meters with a little noise, and a true factor. */
export const QUIET_BENCH = {
  level_mW: 50,
  factor: 1.1,
  noise: { reference: 0.004, candidate: 0.006 },
} as const;

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

/** Errors that stay the same through a whole series, as relative standard uncertainties. */
export interface StayingErrors {
  /** Of the reference: what its certificate states, divided by its coverage factor. */
  readonly certificate: number;
  /** Of placing the heads once. */
  readonly placement: number;
}

/**
 * Many workshops compare meters of the same two makes: each has a reference of its own, wrong by as
 * much as its certificate allows for, and places the heads once. The factor that would give the
 * true power is that of the bench in every one of them.
 *
 * @throws argument-wrong as `simulateSeries`
 */
export function workshops(options: {
  readonly bench: BenchOptions;
  readonly staying: StayingErrors;
  readonly times: number;
  readonly seed: number;
}): readonly Series[] {
  const { bench, staying } = options;
  const random = seededRandom(options.seed);
  return Array.from({ length: options.times }, () => {
    const reads = Math.exp(staying.certificate * random.normal());
    const seated = Math.exp(staying.placement * random.normal());
    // The reference shows all of its own error; the candidate shows none of it.
    const own = { level_mW: bench.level_mW * reads, factor: (bench.factor * reads) / seated };
    return simulateSeries({ ...bench, ...own }, random).series;
  });
}
