import { argumentWrong } from '../../error.js';
import type { Estimate } from './lapEstimate.js';

/**
 * From each group of so many estimates in a row the one with the narrowest interval: what somebody
 * keeps who measures several times and shows the best.
 *
 * @returns one estimate a whole group
 * @throws argument-wrong for a group of less than one
 */
export function narrowest(estimates: readonly Estimate[], of: number): readonly Estimate[] {
  if (!Number.isSafeInteger(of) || of < 1) throw argumentWrong('A group needs one or more.', of);
  const width = ({ low, high }: Estimate) => Math.log(high / low);
  return Array.from({ length: Math.floor(estimates.length / of) }, (_, i) =>
    estimates
      .slice(i * of, (i + 1) * of)
      .reduce((best, one) => (width(one) < width(best) ? one : best)),
  );
}
