import { argumentWrong } from '../error.js';
import { studentQuantile } from './distributions.js';
import { requireOptions } from './options.js';
import { mean, requireValues, standardDeviation } from './summary.js';

export interface EsdStep {
  /** Index in the given array of the value farthest out at this step. */
  readonly index: number;
  /** Its distance from the mean of what was left, in standard deviations. */
  readonly statistic: number;
  readonly critical: number;
}

export interface EsdResult {
  readonly steps: readonly EsdStep[];
  /** Indices judged to be outliers: all steps up to the last one whose statistic is above critical. */
  readonly outliers: readonly number[];
}

/**
 * Generalised extreme studentised deviate: which of up to `most` values are outliers, when nobody
 * knows how many there are? Avoids masking: a later step may convict the earlier ones.
 *
 * For roughly normal values; good from 25 values on, usable from 15.
 *
 * @param values any unit, at least 4
 * @param options.most upper bound for the number of outliers, 1 ≤ most ≤ n − 3
 * @param options.alpha significance level (default 0.05)
 * @throws too-few-values, argument-wrong
 * @see Rosner 1983, Technometrics 25, 165; NIST/SEMATECH e-Handbook 1.3.5.17.3
 */
export function generalisedEsd(
  values: readonly number[],
  options: { readonly most: number; readonly alpha?: number },
): EsdResult {
  const { most, alpha = 0.05 } = requireOptions(options, {
    most: true,
    alpha: { maybe: 'fraction' },
  });
  requireValues(values, 4, 'The generalised ESD test');
  const n = values.length;
  if (!Number.isInteger(most) || most < 1 || most > n - 3) {
    throw argumentWrong('The most outliers must be a whole number from 1 to n − 3.', most);
  }
  const out = farthestFirst(values, most);
  // Mean and spread of what is left at each step, from the last step back: values join from the inside,
  // so a wild one leaves no rounding in what comes after it (Welford 1962).
  const gone = new Set(out);
  const rest = values.filter((_, index) => !gone.has(index));
  let centre = mean(rest);
  let squares = standardDeviation(rest) ** 2 * (rest.length - 1);
  let count = rest.length;
  const steps = out
    .toReversed()
    .map((index): EsdStep => {
      count++;
      const off = values[index] - centre;
      centre += off / count;
      squares += off * (values[index] - centre);
      const t = studentQuantile(1 - alpha / (2 * count), count - 2);
      return {
        index,
        statistic: Math.abs(values[index] - centre) / Math.sqrt(squares / (count - 1)),
        critical: ((count - 1) * t) / Math.sqrt((count - 2 + t * t) * count),
      };
    })
    .reverse();
  let last = 0;
  steps.forEach((step, i) => {
    if (step.statistic > step.critical) last = i + 1;
  });
  return { steps, outliers: steps.slice(0, last).map((step) => step.index) };
}

/**
 * Indices in the order in which the value farthest from the mean of what is left goes: always the
 * smallest or the largest. Ends where all that are left are equal.
 */
function farthestFirst(values: readonly number[], most: number): number[] {
  const rising = [...values.keys()].sort((a, b) => values[a] - values[b]);
  const falling = [...values.keys()].sort((a, b) => values[b] - values[a]);
  const middle = values[rising[values.length >> 1]];
  let sum = values.reduce((total, value) => total + (value - middle), 0);
  const out: number[] = [];
  let lows = 0;
  while (out.length < most) {
    const low = rising[lows];
    const high = falling[out.length - lows];
    if (values[low] === values[high]) break;
    const centre = middle + sum / (values.length - out.length);
    const further = centre - values[low] - (values[high] - centre);
    const index = further > 0 || (further === 0 && low < high) ? low : high;
    if (index === low) lows++;
    out.push(index);
    sum -= values[index] - middle;
  }
  return out;
}
