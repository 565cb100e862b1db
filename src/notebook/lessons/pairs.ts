/** Two meters in front of sources of different power. */
import { correlation } from '../../agree/correlation.js';
import { limitsOfAgreement } from '../../agree/limitsOfAgreement.js';
import type { PairedReadings } from '../../agree/pairedLevels.js';
import { simulateSeries } from '../../simulate/bench.js';
import type { BenchOptions } from '../../simulate/benchOptions.js';
import { seededRandom } from '../../statistics/random.js';
import { mean } from '../../statistics/summary.js';
import { type Spread, spreadOf } from './counts.js';

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
  return reference.map((shown, i) => 100 * (candidate[i] / shown - 1));
}

/** ln(reference ÷ candidate) of every pair. */
export const ratioLogs = ({ reference, candidate }: PairedReadings): readonly number[] =>
  reference.map((shown, i) => Math.log(shown / candidate[i]));

/** Pairs whose candidate readings were multiplied by the factor that the pairs themselves give. */
export interface CorrectedPairs {
  readonly factor: number;
  readonly pairs: PairedReadings;
}

/**
 * What is left of the difference once one factor has been applied? K is the geometric mean of
 * reference ÷ candidate.
 *
 * @throws too-few-values without pairs
 */
export function correctedPairs(pairs: PairedReadings): CorrectedPairs {
  const factor = Math.exp(mean(ratioLogs(pairs)));
  return { factor, pairs: { ...pairs, candidate: pairs.candidate.map((shown) => factor * shown) } };
}

export interface RangeFigures {
  readonly range_mW: readonly [number, number];
  readonly r: Spread;
  /** From the lower to the upper limit of agreement, percent of the reference. */
  readonly width: Spread;
}

/**
 * What correlation and limits of agreement do the same two meters get over this range of power, in
 * one repetition after another?
 *
 * @param options.times repetitions; the n-th uses the seed + n − 1
 */
export function rangeStudy(plan: RangePlan, options: { readonly times: number }): RangeFigures {
  const repetitions = Array.from({ length: options.times }, (_, i) =>
    pairsOverRange({ ...plan, seed: plan.seed + i }),
  );
  return {
    range_mW: plan.range_mW,
    r: spreadOf(repetitions.map((pairs) => correlation(pairs) ?? 0)),
    width: spreadOf(
      repetitions.map((pairs) => {
        const { low, high } = limitsOfAgreement(percentDifferences(pairs));
        return (high ?? 0) - (low ?? 0);
      }),
    ),
  };
}

/** The factor that undoes a difference (candidate − reference, percent of the reference). */
export function factorOf(difference_percent: number): number {
  return 1 / (1 + difference_percent / 100);
}
