import { requireValues } from './summary.js';

/**
 * Ranks from 1 on; tied values share the mean of their ranks, and so do values that lie within
 * `alike` of the smallest of their tie. @throws argument-wrong.
 */
export function midranks(values: readonly number[], alike = 0): number[] {
  requireValues(values, 0, 'Ranking');
  const order = values.map((_, i) => i).sort((a, b) => values[a] - values[b]);
  const ranks = new Array<number>(values.length).fill(0);
  for (let start = 0; start < order.length; ) {
    let end = start;
    while (end + 1 < order.length && values[order[end + 1]] - values[order[start]] <= alike) end++;
    for (let i = start; i <= end; i++) ranks[order[i]] = (start + end) / 2 + 1;
    start = end + 1;
  }
  return ranks;
}
