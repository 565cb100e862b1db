/** Exact decimal rounding on digits, so that what is printed never depends on binary fractions. */
import { argumentWrong } from '../error.js';

/** `units` × 10^`exponent`; `units` carries the sign. */
export interface Decimal {
  readonly units: bigint;
  readonly exponent: number;
}

/**
 * `half-up`: ties away from zero. `half-even`: ties to the even digit. `up`: always away from zero.
 * `ceiling` and `floor`: towards plus and minus infinity.
 */
export type RoundingRule = 'half-up' | 'half-even' | 'up' | 'ceiling' | 'floor';

/**
 * The shortest decimal number that reads back as `value`: what a person would say the number is,
 * 0.355 and not 0.35499999999999998.
 *
 * @throws argument-wrong for a number that is not finite
 */
export function decimalOf(value: number): Decimal {
  if (!Number.isFinite(value)) {
    throw argumentWrong('Only a finite number can be printed.', value);
  }
  const [mantissa, power] = value.toExponential().split('e');
  const [whole, fraction = ''] = mantissa.split('.');
  return { units: BigInt(whole + fraction), exponent: Number(power) - fraction.length };
}

/** Multiplies by 10^`places` without touching a digit. */
export function shiftDecimal(decimal: Decimal, places: number): Decimal {
  return { units: decimal.units, exponent: decimal.exponent + places };
}

/** Power of ten of the first digit that is not zero: 1 for 28.05, −2 for 0.027; `null` for zero. */
export function leadingPlace(decimal: Decimal): number | null {
  if (decimal.units === 0n) return null;
  return String(absolute(decimal.units)).length - 1 + decimal.exponent;
}

/** Rounds to a whole number of 10^`place`. */
export function roundDecimal(decimal: Decimal, place: number, rule: RoundingRule): Decimal {
  if (decimal.exponent >= place) {
    return { units: decimal.units * 10n ** BigInt(decimal.exponent - place), exponent: place };
  }
  const step = 10n ** BigInt(place - decimal.exponent);
  const negative = decimal.units < 0n;
  const size = absolute(decimal.units);
  const kept = size / step;
  const rest = size % step;
  const up = roundsUp(kept, rest, step, rule, negative);
  const units = up ? kept + 1n : kept;
  return { units: negative ? -units : units, exponent: place };
}

function roundsUp(
  kept: bigint,
  rest: bigint,
  step: bigint,
  rule: RoundingRule,
  negative: boolean,
): boolean {
  if (rest === 0n) return false;
  if (rule === 'up') return true;
  if (rule === 'ceiling') return !negative;
  if (rule === 'floor') return negative;
  const twice = rest * 2n;
  if (twice !== step) return twice > step;
  return rule === 'half-up' || kept % 2n === 1n;
}

/** Plain positional notation with a true minus sign; never an exponent. */
export function printDecimal(decimal: Decimal): string {
  const digits = String(absolute(decimal.units));
  const sign = decimal.units < 0n ? '\u2212' : '';
  if (decimal.exponent >= 0) {
    return `${sign}${decimal.units === 0n ? '0' : digits + '0'.repeat(decimal.exponent)}`;
  }
  const padded = digits.padStart(1 - decimal.exponent, '0');
  return `${sign}${padded.slice(0, decimal.exponent)}.${padded.slice(decimal.exponent)}`;
}

function absolute(units: bigint): bigint {
  return units < 0n ? -units : units;
}
