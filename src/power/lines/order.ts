/** What the two lines that go by the order of slopes share. */
import { requireValues } from '../../statistics/summary.js';

/** Median; the mean of the middle two for an even number. @throws too-few-values. */
export function median(values: readonly number[]): number {
  requireValues(values, 1, 'A median');
  const sorted = Float64Array.from(values).sort();
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
}

/** Sizes of the groups of equal values, from two up. */
export function tieGroups(values: readonly number[]): number[] {
  const sorted = Float64Array.from(values).sort();
  const groups: number[] = [];
  for (let from = 0, i = 1; i <= sorted.length; i++) {
    if (sorted[i] === sorted[from]) continue;
    if (i - from > 1) groups.push(i - from);
    from = i;
  }
  return groups;
}

/** 1.4826 × the median absolute residual: a standard deviation that wild readings do not move. */
export function residualSd(residuals: readonly number[]): number | null {
  return residuals.length < 3 ? null : 1.4826 * median(residuals.map(Math.abs));
}
