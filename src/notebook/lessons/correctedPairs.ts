import type { PairedReadings } from '../../agree/pairedLevels.js';
import { mean } from '../../statistics/summary.js';

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
export function correctedPairs({ reference, candidate }: PairedReadings): CorrectedPairs {
  const logs = reference.map((shown, i) => Math.log(shown / (candidate[i] ?? Number.NaN)));
  const factor = Math.exp(mean(logs));
  return { factor, pairs: { reference, candidate: candidate.map((shown) => factor * shown) } };
}
