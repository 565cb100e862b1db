import type { CompleteWishes } from './comparisonWishes.js';
import { plannedSpread, type SizeOfDesign } from './plannedSpread.js';

const DRAWS = 200;

/**
 * What the variance of a corrected reading will be made of: each part's share of it, the largest first, on the
 * average of many comparisons that might be. Empty when so few runs leave no degree of freedom.
 */
export function plannedShares(
  wishes: CompleteWishes,
  size: SizeOfDesign,
): readonly { readonly name: string; readonly share: number }[] {
  const variances = new Map<string, number>();
  for (const parts of plannedSpread(wishes, size, DRAWS) ?? []) {
    const { factor, reading } = parts();
    // Of K the parts one by one; what placements do to it is in the placement of the reading.
    const ofFactor = factor.filter(({ kind }) => kind !== 'between-series');
    const ofReading = reading.filter(({ name }) => name !== 'factor K');
    for (const { name, relative_standard_uncertainty: u } of [...ofFactor, ...ofReading]) {
      variances.set(name, (variances.get(name) ?? 0) + u * u);
    }
  }
  const total = [...variances.values()].reduce((sum, variance) => sum + variance, 0);
  if (total === 0) return [];
  return [...variances]
    .map(([name, variance]) => ({ name, share: variance / total }))
    .sort((a, b) => b.share - a.share);
}
