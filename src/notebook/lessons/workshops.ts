import { simulateSeries } from '../../simulate/bench.js';
import type { BenchOptions } from '../../simulate/benchOptions.js';
import { seededRandom } from '../../statistics/random.js';
import type { Series } from '../../vocabulary.js';

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
