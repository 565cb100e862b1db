import { median } from 'simple-statistics';
import { requireValues } from './summary.js';

/** Makes the median absolute deviation estimate σ for normal values: 1/Φ⁻¹(3/4). */
const NORMAL_CONSISTENCY = 1.482602218505602;

/**
 * Indices of values farther than `limit` robust standard deviations from the median (Hampel's
 * identifier). The robust scale is 1.4826 × the median absolute deviation, and not below `floor`:
 * readings of a digital display repeat, and half of them equal would make the scale zero.
 *
 * @param values any unit, at least 3
 * @throws too-few-values, argument-wrong
 * @see Hampel 1974, J. Am. Stat. Assoc. 69, 383; Davies and Gather 1993
 */
export function farFromMedian(
  values: readonly number[],
  options: { readonly limit?: number; readonly floor?: number } = {},
): number[] {
  const { limit = 3, floor = 0 } = options;
  requireValues(values, 3, 'The median deviation');
  const centre = median(values as number[]);
  const deviations = values.map((value) => Math.abs(value - centre));
  const scale = Math.max(NORMAL_CONSISTENCY * median(deviations), floor);
  if (scale === 0) return [];
  return deviations.flatMap((deviation, i) => (deviation > limit * scale ? [i] : []));
}
