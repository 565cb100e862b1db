/**
 * The one number formatter: every number that a person reads goes through here.
 *
 * House decision on rounding. The uncertainty is rounded to two significant digits, ties away from
 * zero, so that a tie never makes an uncertainty look smaller; the value is rounded to the same
 * place, ties to even, so that ties pull no average to one side. Digits are those of the shortest
 * decimal number that reads back as the same double, and a percentage is made by moving the point
 * before rounding.
 */

import { argumentWrong } from '../error.js';
import { requireOptions } from '../statistics/options.js';
import { requireShape } from '../statistics/shapes.js';
import { decimalOf, leadingPlace, printDecimal, roundDecimal, shiftDecimal } from './decimal.js';
import {
  formatInterval,
  formatNumber,
  NO_NUMBER,
  splitPower,
  superscript,
  toDigits,
  twoDigitPlace,
  type UnitOptions,
  unitOf,
} from './formatNumber.js';

export interface UncertainOptions extends UnitOptions {
  /** How the uncertainty is rounded: to the nearest (default) or always upwards. */
  readonly uncertainty?: 'nearest' | 'up';
  /** `value`: only the value, rounded to match its uncertainty (default `both`). */
  readonly show?: 'both' | 'value';
}

const OPTIONS = { unit: true, as: true, uncertainty: true, show: true } as const;

/** Value and uncertainty as printed, both to the same decimal place. */
export interface RoundedUncertain {
  readonly value: string;
  readonly uncertainty: string;
  /** Power of ten that both are to be multiplied by; 0 in the usual range. */
  readonly power: number;
}

/**
 * Rounds a value to match its uncertainty at two significant digits.
 *
 * @param value in any unit
 * @param U expanded (or standard) uncertainty, same unit, not negative
 * @throws argument-wrong for a number that is not finite or a negative uncertainty
 * @see JCGM 100:2008, 7.2.6
 */
export function roundUncertain(
  value: number,
  U: number,
  options: UncertainOptions = {},
): RoundedUncertain {
  if (U < 0) throw argumentWrong('An uncertainty cannot be negative.', U, 'zero or above');
  const scale = options.as === 'percent' ? 2 : 0;
  const size = shiftDecimal(decimalOf(U), scale);
  const number = shiftDecimal(decimalOf(value), scale);
  const first = leadingPlace(size);
  if (first === null) return { value: toDigits(number, 6), uncertainty: '0', power: 0 };
  const rule = options.uncertainty === 'up' ? 'up' : 'half-up';
  const place = twoDigitPlace(size, rule);
  const rounded = roundDecimal(number, place, 'half-even');
  const roundedU = roundDecimal(size, place, rule);
  const power = splitPower(rounded, roundedU);
  return {
    value: printDecimal(shiftDecimal(rounded, -power)),
    uncertainty: printDecimal(shiftDecimal(roundedU, -power)),
    power,
  };
}

/**
 * "0.923 ± 0.011", "(46.2 ± 1.3) mW", "(−7.9 ± 1.1) %". A missing value is "—"; a value without an
 * uncertainty is shown to four significant digits.
 *
 * @throws argument-wrong as `roundUncertain`
 */
export function formatUncertain(
  value: number | null,
  U: number | null,
  options: UncertainOptions = {},
): string {
  const { unit: inUnit, as } = requireOptions(options, OPTIONS);
  requireShape(U, 'An uncertainty', { orNull: 'not-negative' });
  if (value === null) return NO_NUMBER;
  if (U === null) return formatNumber(value, { unit: inUnit, as });
  const rounded = roundUncertain(value, U, options);
  const pair =
    options.show === 'value' ? rounded.value : `${rounded.value} ± ${rounded.uncertainty}`;
  const power = rounded.power === 0 ? '' : ` × 10${superscript(rounded.power)}`;
  const unit = unitOf(options);
  const alone = options.show === 'value' || (power === '' && unit === '');
  return alone ? `${pair}${power}${unit}` : `(${pair})${power}${unit}`;
}

/** The uncertainty alone, with its sign: "± 0.011", "± 1.2 %". */
export function formatUncertainty(U: number | null, options: UncertainOptions = {}): string {
  if (U === null) return NO_NUMBER;
  const rounded = roundUncertain(0, U, options);
  const power = rounded.power === 0 ? '' : ` × 10${superscript(rounded.power)}`;
  return `± ${rounded.uncertainty}${power}${unitOf(options)}`;
}

/**
 * A value and how far it is known: "1.216 ± 0.011" where both ends of its interval are as far off to the
 * printed digits, else with the interval, "1.125 (1.083 to 1.169)".
 */
export function formatKnown(value: number, low: number, high: number): string {
  const [down, up] = [value - low, high - value].map((U) => formatUncertainty(U));
  return down === up
    ? formatUncertain(value, high - value)
    : `${formatUncertain(value, (high - low) / 2, { show: 'value' })} (${formatInterval(low, high)})`;
}
