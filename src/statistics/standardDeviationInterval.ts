import type { Interval } from '../vocabulary.js';
import { chiSquareQuantile } from './distributions.js';
import { CONFIDENCE, requireOptions } from './options.js';
import { requireShape } from './shapes.js';

/**
 * Within which interval does the standard deviation of a normal population lie?
 *
 * @param sd standard deviation found on `dof` degrees of freedom (n − 1 for one sample)
 * @returns two-sided interval, equal tails
 * @throws argument-wrong
 *
 * Not for readings that are far from normal: unlike the t interval it does not forgive that.
 * Source: NIST/SEMATECH e-Handbook 1.3.5.8.
 */
export function standardDeviationInterval(
  sd: number,
  dof: number,
  options: { readonly confidence?: number } = {},
): Interval {
  const { confidence = 0.95 } = requireOptions(options, { confidence: CONFIDENCE });
  requireShape(sd, 'A standard deviation', 'not-negative');
  return [
    sd * Math.sqrt(dof / chiSquareQuantile((1 + confidence) / 2, dof)),
    sd * Math.sqrt(dof / chiSquareQuantile((1 - confidence) / 2, dof)),
  ];
}
