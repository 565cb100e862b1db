import { quantileSorted } from 'simple-statistics';
import { correlation } from '../../agree/correlation.js';
import { limitsOfAgreement } from '../../agree/limitsOfAgreement.js';
import { mean } from '../../statistics/summary.js';
import { pairsOverRange, percentDifferences, type RangePlan } from './pairsOverRange.js';

/** Mean over the repetitions, and between what the middle 95 % of them lie. */
export interface Spread {
  readonly mean: number;
  readonly most: readonly [number, number];
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
    r: spread(repetitions.map((pairs) => correlation(pairs) ?? 0)),
    width: spread(
      repetitions.map((pairs) => {
        const { low, high } = limitsOfAgreement(percentDifferences(pairs));
        return (high ?? 0) - (low ?? 0);
      }),
    ),
  };
}

function spread(values: readonly number[]): Spread {
  const sorted = [...values].sort((a, b) => a - b);
  return {
    mean: mean(values),
    most: [quantileSorted(sorted, 0.025), quantileSorted(sorted, 0.975)],
  };
}
