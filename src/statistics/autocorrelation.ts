import { argumentWrong } from '../error.js';
import { requireOptions } from './options.js';
import { mean, requireValues } from './summary.js';

/**
 * Does a value resemble the one before it (1: fully, 0: not at all, negative: it alternates)?
 *
 * @param values in the order of time, evenly spaced
 * @param lag how many steps back (default 1)
 * @returns autocorrelation coefficient, −1 to 1; `null` when the values do not scatter
 * @throws too-few-values, argument-wrong
 *
 * Source: NIST/SEMATECH e-Handbook 1.3.5.12; certified values: NIST StRD univariate.
 */
export function autocorrelation(
  values: readonly number[],
  options: { readonly lag?: number } = {},
): number | null {
  const { lag = 1 } = requireOptions(options, { lag: true });
  if (!Number.isInteger(lag) || lag < 0) throw argumentWrong('A lag is a whole number.', lag);
  requireValues(values, lag + 2, 'An autocorrelation');
  const centre = mean(values);
  let products = 0;
  let squares = 0;
  for (let i = 0; i < values.length; i++) {
    squares += (values[i] - centre) ** 2;
    if (i >= lag) products += (values[i] - centre) * (values[i - lag] - centre);
  }
  return squares > 0 ? products / squares : null;
}
