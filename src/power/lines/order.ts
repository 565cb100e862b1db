/** What the two lines that go by the order of slopes share. */
import { median } from 'simple-statistics';
import type { Interval } from '../../vocabulary.js';
import type { Line } from './line.js';

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
function residualSd(residuals: readonly number[]): number | null {
  return residuals.length < 3 ? null : 1.4826 * median(residuals.map(Math.abs));
}

/** The record of a line that has intervals, and no standard uncertainties. */
export function orderLine(
  found: Pick<Line, 'method' | 'confidence' | 'residuals' | 'why'> & {
    readonly intercept: number;
    readonly intercept_interval: Interval | null;
    readonly slope: number;
    readonly slope_interval: Interval | null;
  },
): Line {
  const { intercept, intercept_interval, slope, slope_interval, ...rest } = found;
  const points = rest.residuals.length;
  return {
    ...rest,
    intercept: { value: intercept, standard_uncertainty: null, interval: intercept_interval },
    slope: { value: slope, standard_uncertainty: null, interval: slope_interval },
    covariance: null,
    dof: points - 2,
    points,
    coverage_factor: null,
    residual_sd: residualSd(rest.residuals),
  };
}

/** The middle one of so many slopes in order, the mean of the middle two for an even number. */
export function middleSlope(at: (rank: number) => number, total: number): number {
  const half = (total + 1) / 2;
  return total % 2 === 1 ? at(half) : (at(half - 0.5) + at(half + 0.5)) / 2;
}
