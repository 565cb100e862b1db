/** Three instruments on the same items: whose scatter is it? */

import { argumentWrong } from '../error.js';
import { requireOptions } from '../statistics/options.js';
import { requireValues, standardDeviation } from '../statistics/summary.js';

export interface InstrumentPrecision {
  readonly name: string;
  /** Estimated variance of the instrument; may be negative, which means too few data. */
  readonly variance: number;
  /** Standard deviation; `null` when the variance came out negative. */
  readonly standardDeviation: number | null;
}

export interface PrecisionResult {
  readonly instruments: readonly InstrumentPrecision[];
  readonly items: number;
  /** Whether the values were taken as logarithms: then the standard deviations are fractions. */
  readonly relative: boolean;
  readonly why: string;
}

export interface PrecisionInput {
  /** Three instruments, each with one value per item, items in the same order. */
  readonly instruments: readonly { readonly name: string; readonly values: readonly number[] }[];
  /** Compare logarithms (default true): fits scatter that grows with power. */
  readonly relative?: boolean;
}

/**
 * Separates the scatter of three instruments that measured the same items.
 *
 * s₁² = ½ (s₁₂² + s₁₃² − s₂₃²), with s_ij² the variance of the differences between i and j. The
 * items' own variation cancels. Tells how precise each instrument is, not which one is right, and
 * holds only when their errors are independent.
 *
 * @throws argument-wrong unless there are three instruments with equally many values (positive ones
 *   when relative), too-few-values below three items
 *
 * Source: Grubbs 1948, J. Am. Stat. Assoc. 43, 243 to 264 (from memory).
 */
export function precisionOfThree(input: PrecisionInput): PrecisionResult {
  const { instruments, relative = true } = requireOptions(input, {
    instruments: { list: { fields: { name: 'text' } } },
    relative: { maybe: 'yes-or-no' },
  });
  if (instruments.length !== 3) {
    throw argumentWrong('Three instruments are needed.', instruments.length);
  }
  const [a, b, c] = instruments.map(({ name, values }) => {
    requireValues(values, 3, `The precision of ${name}`);
    if (values.length !== instruments[0].values.length) {
      throw argumentWrong('Every instrument needs one value per item.', values.length);
    }
    if (relative && values.some((value) => value <= 0)) {
      throw argumentWrong('Relative comparison needs values above 0.', Math.min(...values));
    }
    return relative ? values.map(Math.log) : values;
  });
  const between = (x: readonly number[], y: readonly number[]) =>
    standardDeviation(x.map((value, i) => value - y[i])) ** 2;
  const ab = between(a, b);
  const ac = between(a, c);
  const bc = between(b, c);
  // What rounding leaves of a zero is not a negative variance.
  const rounding = 1e-12 * (ab + ac + bc);
  const variances = [ab + ac - bc, ab + bc - ac, ac + bc - ab].map((twice) =>
    Math.abs(twice) <= rounding ? 0 : twice / 2,
  );
  const separated = instruments.map(({ name }, i) => ({
    name,
    variance: variances[i],
    standardDeviation: variances[i] < 0 ? null : Math.sqrt(variances[i]),
  }));
  const negative = separated.filter((one) => one.standardDeviation === null);
  const items = instruments[0].values.length;
  return {
    instruments: separated,
    items,
    relative,
    why:
      negative.length === 0
        ? `Scatter separated from ${items} items. This is precision only: an instrument that scatters little may still read wrong.`
        : `The variance of ${negative.map((one) => one.name).join(' and ')} came out negative, which no variance can be: with ${items} items it cannot be told from zero, or errors are shared between instruments.`,
  };
}
