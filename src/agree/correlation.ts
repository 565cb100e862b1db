import { mean } from '../statistics/summary.js';
import type { PairedReadings } from './pairedLevels.js';
import { requirePairs } from './pairedLevels.js';

/**
 * Pearson's correlation of the two meters' readings; `null` when either does not scatter.
 *
 * Not a measure of agreement: a candidate that shows half the power correlates perfectly, and a
 * wider range of power raises the figure with the errors unchanged.
 *
 * @throws too-few-values below 2 pairs, argument-wrong
 */
export function correlation(pairs: PairedReadings): number | null {
  requirePairs(pairs, 2, 'A correlation');
  const { reference, candidate } = pairs;
  const [m1, m2] = [mean(reference), mean(candidate)];
  let s11 = 0;
  let s22 = 0;
  let s12 = 0;
  for (let i = 0; i < reference.length; i++) {
    s11 += (reference[i] - m1) ** 2;
    s22 += (candidate[i] - m2) ** 2;
    s12 += (reference[i] - m1) * (candidate[i] - m2);
  }
  if (!(s11 > 0 && s22 > 0)) return null;
  return Math.min(1, Math.max(-1, s12 / (Math.sqrt(s11) * Math.sqrt(s22))));
}
