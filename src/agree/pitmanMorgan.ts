import { coverageFactor } from '../statistics/distributions.js';
import { CONFIDENCE, requireOptions } from '../statistics/options.js';
import { twoSidedP } from '../statistics/student.js';
import { standardDeviation } from '../statistics/summary.js';
import { correlation } from './correlation.js';
import type { PairedReadings } from './pairedLevels.js';
import { requirePairs } from './pairedLevels.js';

export interface PitmanMorgan {
  /** Standard deviation of the candidate over that of the reference. */
  readonly ratio: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly t: number | null;
  readonly dof: number;
  readonly p: number | null;
  readonly why: string;
}

/**
 * Do the readings of both meters spread equally, pairs being correlated?
 *
 * @throws too-few-values below 3 pairs, argument-wrong
 *
 * The same p as the slope of difference against mean. A ratio other than 1 can come from unequal
 * gain or from unequal noise; this test cannot tell which.
 * Source: Pitman, Biometrika 31 (1939) 9; Morgan, ibid. 13.
 */
export function pitmanMorgan(
  pairs: PairedReadings,
  options: { readonly confidence?: number } = {},
): PitmanMorgan {
  const { confidence = 0.95 } = requireOptions(options, { confidence: CONFIDENCE });
  requirePairs(pairs, 3, 'A comparison of spreads');
  const dof = pairs.reference.length - 2;
  const [s1, s2] = [standardDeviation(pairs.candidate), standardDeviation(pairs.reference)];
  const r = correlation(pairs);
  if (r === null || !(r * r < 1 - 1e-12)) {
    return {
      ratio: s2 > 0 ? s1 / s2 : null,
      low: null,
      high: null,
      t: null,
      dof,
      p: null,
      why: 'Readings that do not scatter, or lie on a line exactly, cannot be tested.',
    };
  }
  const ratio = s1 / s2;
  const t = ((ratio - 1 / ratio) * Math.sqrt(dof)) / (2 * Math.sqrt(1 - r * r));
  const k = 1 + (2 * (1 - r * r) * coverageFactor(confidence, dof) ** 2) / dof;
  const root = Math.sqrt(k * k - 1);
  return {
    ratio,
    low: ratio / Math.sqrt(k + root),
    high: ratio * Math.sqrt(k + root),
    t,
    dof,
    p: twoSidedP(t, dof),
    why: '',
  };
}
