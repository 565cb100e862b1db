import type { PairedReadings } from '../../agree/pairedLevels.js';
import { simulateSeries } from '../../simulate/bench.js';
import type { BenchOptions } from '../../simulate/benchOptions.js';
import { seededRandom } from '../../statistics/random.js';

/** Two meters, and the sources that both were held in front of. */
export interface RangePlan {
  readonly meters: Pick<BenchOptions, 'factor' | 'noise'>;
  /** Weakest and strongest source, mW; the others lie between them at equal ratios. */
  readonly range_mW: readonly [number, number];
  /** How many sources, 2 or more. */
  readonly sources: number;
  readonly seed: number;
}

/**
 * One lap of both meters on each of several sources of different power.
 *
 * @throws argument-wrong as `simulateSeries`
 */
export function pairsOverRange(plan: RangePlan): PairedReadings {
  const random = seededRandom(plan.seed);
  const [low, high] = plan.range_mW;
  const runs = Array.from({ length: plan.sources }, (_, i) => {
    const level_mW = low * (high / low) ** (i / (plan.sources - 1));
    return simulateSeries({ ...plan.meters, laps: 1, level_mW }, random).series.runs;
  }).flat();
  const of = (meter: 'reference' | 'candidate') =>
    runs.filter((run) => run.meter === meter).map((run) => run.reading_mW);
  return { reference: of('reference'), candidate: of('candidate') };
}

/** Candidate − reference in percent of the reference, pair by pair. */
export function percentDifferences({ reference, candidate }: PairedReadings): readonly number[] {
  return reference.map((shown, i) => 100 * ((candidate[i] ?? Number.NaN) / shown - 1));
}
