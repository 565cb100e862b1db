/**
 * Numbers without an uncertainty beside them: plain, intervals, powers, degrees of freedom, p. The one
 * number format of the package; it imports no room, so that the sentences of every room can ask it.
 */
import { requireOptions } from '../statistics/options.js';
import {
  type Decimal,
  decimalOf,
  leadingPlace,
  printDecimal,
  type RoundingRule,
  roundDecimal,
  shiftDecimal,
} from './decimal.js';

/** Shown where there is no number; the reason stands beside it. */
export const NO_NUMBER = '\u2014';

/** Ranges in which a number is written out plainly; outside, a power of ten is split off. */
const PLAIN_FROM = -7;
const PLAIN_TO = 9;

export interface UnitOptions {
  /** Unit written after the number. `%` for a number that already is in percent. */
  readonly unit?: string;
  /** `percent`: the input is a fraction; it is shown in percent. */
  readonly as?: 'plain' | 'percent';
}

export interface NumberOptions extends UnitOptions {
  /** Significant digits (default 4). */
  readonly digits?: number;
  /** Default `half-even`. */
  readonly rounding?: RoundingRule;
  /** Keep zeros behind the point: for a number computed to that many digits. Default false. */
  readonly keepZeros?: boolean;
  /** So many decimals instead of significant digits. */
  readonly places?: number;
}

/** For a number computed from data that has no interval beside it: "−3.0", "0.10". */
export const TWO_DIGITS: NumberOptions = { digits: 2, keepZeros: true };

/**
 * A relative quantity in percent to two significant digits, without the sign: "0.40" for 0.004.
 * Below a thousandth of a percent it is "< 0.001".
 */
export function formatRelative(fraction: number | null): string {
  if (fraction === null) return NO_NUMBER;
  const number = shiftDecimal(decimalOf(fraction), 2);
  if (leadingPlace(number) === null) return '0';
  if (Math.abs(fraction) < 1e-5) return fraction < 0 ? '> \u22120.001' : '< 0.001';
  const rounded = roundDecimal(number, twoDigitPlace(number, 'half-up'), 'half-up');
  return withPower(rounded);
}

/** A number without an uncertainty, to a stated number of significant digits. */
export function formatNumber(value: number | null, options: NumberOptions = {}): string {
  requireOptions(options, {
    unit: true,
    as: true,
    digits: true,
    rounding: true,
    keepZeros: true,
    places: true,
  });
  if (value === null) return NO_NUMBER;
  const number = shiftDecimal(decimalOf(value), options.as === 'percent' ? 2 : 0);
  const { digits = 4, rounding = 'half-even', places, keepZeros } = options;
  const text =
    places === undefined
      ? toDigits(number, digits, rounding, keepZeros)
      : printDecimal(roundDecimal(number, -places, rounding));
  return `${text}${unitOf(options)}`;
}

/**
 * Numbers read from one display, side by side: zeros kept up to the decimals of the one that has most,
 * and no further than the significant digits (default 4). "73.1" and "75.0".
 */
export function formatAlike(values: readonly number[], digits = 4): readonly string[] {
  const decimals = (text: string) => (/\.\d+$/.exec(text)?.[0] ?? '').length;
  const most = Math.max(...values.map((value) => decimals(formatNumber(value, { digits }))));
  return values.map((value) => {
    const full = formatNumber(value, { digits, keepZeros: true });
    return full.slice(0, full.length - Math.max(0, decimals(full) - most));
  });
}

/** A number in a sentence, with so many significant digits; one that is not finite as "∞". */
export function significant(value: number, digits: number): string {
  if (!Number.isFinite(value)) return value < 0 ? '\u2212\u221e' : '\u221e';
  return formatNumber(value, { digits, rounding: 'half-up' });
}

/** A fraction in a sentence as percent: 0.0312 is "3.1 %", 0.05 "5 %". */
export function percent(fraction: number, digits = 2): string {
  return `${significant(100 * fraction, digits)} %`;
}

/** The same with its zeros, "5.0 %", for an uncertainty; whole from 99.5 % on. */
export function percentText(fraction: number): string {
  const whole = fraction >= 0.995 ? { places: 0 } : { digits: 2 };
  return formatNumber(fraction, { as: 'percent', keepZeros: true, rounding: 'half-up', ...whole });
}

/** A share of the variance as whole percent, with "less than 1 %" instead of "0 %". */
export function shareText(share: number): string {
  const whole = Math.round(100 * share);
  if (whole < 1 && share > 0) return 'less than 1 %';
  return whole === 100 && share < 1 ? 'nearly all' : `${whole} %`;
}

/** A decimal number rounded to significant digits. */
export function toDigits(
  number: Decimal,
  digits: number,
  rule: RoundingRule = 'half-even',
  keepZeros = false,
): string {
  if (leadingPlace(number) === null) return '0';
  return withPower(roundDecimal(number, digitPlace(number, digits, rule), rule), keepZeros);
}

/** All digits, with a power of ten split off where they would be many. */
function withPower(number: Decimal, keepZeros = true): string {
  const power = splitPower(number, number);
  const shifted = shiftDecimal(number, -power);
  const text = printDecimal(keepZeros ? shifted : trim(shifted));
  return power === 0 ? text : `${text} × 10${superscript(power)}`;
}

/** Drops zeros behind the point: a bare number claims no more digits than it has. */
function trim(number: Decimal): Decimal {
  let { units, exponent } = number;
  while (exponent < 0 && units !== 0n && units % 10n === 0n) {
    units /= 10n;
    exponent += 1;
  }
  return { units, exponent };
}

/**
 * "0.912 to 0.934": both ends to the place that two significant digits of the half width ask for.
 * An end that is missing is "—".
 */
export function formatInterval(
  low: number | null,
  high: number | null,
  options: UnitOptions = {},
): string {
  if (low === null && high === null) return NO_NUMBER;
  if (low === null || high === null) {
    return `${formatNumber(low, { ...options, unit: '' })} to ${formatNumber(high, options)}`;
  }
  const [from, to] = [low, high].map((end) => atPlaceOf(low, high, end, options));
  return `${from} to ${to}${unitOf(options)}`;
}

/** A value to the place of the interval beside it: "0.0" beside "−3.0 to 3.1". A missing one is "—". */
export function formatWithin(
  value: number | null,
  low: number | null,
  high: number | null,
  options: UnitOptions = {},
): string {
  if (value === null || low === null || high === null) {
    return formatNumber(value, options);
  }
  return `${atPlaceOf(low, high, value, options)}${unitOf(options)}`;
}

/** "5.7 % (2.5 to 9.0 %)"; without both ends the value alone. */
export function formatEstimate(
  value: number | null,
  low: number | null,
  high: number | null,
  options: UnitOptions = {},
): string {
  if (low === null || high === null) return formatNumber(value, options);
  return `${formatWithin(value, low, high, options)} (${formatInterval(low, high, options)})`;
}

/** To the place where two significant digits of half the width of an interval end. */
function atPlaceOf(low: number, high: number, value: number, { as }: UnitOptions): string {
  const scale = as === 'percent' ? 2 : 0;
  if (!Number.isFinite(high - low)) return significant(value * 10 ** scale, 4);
  const half = decimalOf(Math.abs(high - low) / 2);
  const number = shiftDecimal(decimalOf(value), scale);
  if (leadingPlace(half) === null) return toDigits(number, 6);
  const rounded = roundDecimal(number, twoDigitPlace(half, 'half-up') + scale, 'half-even');
  return splitPower(rounded, rounded) === 0 || rounded.units === 0n
    ? printDecimal(rounded)
    : toDigits(number, 4);
}

/**
 * Power in mW to four significant digits. `up`: an upper bound, which must not be printed smaller than
 * it is and carries an uncertainty, to three, rounded away from zero.
 */
export function formatPower(
  value_mW: number | null,
  options: { readonly up?: boolean; readonly unit?: string } = {},
): string {
  const unit = options.unit ?? 'mW';
  if (value_mW === null || options.up !== true) return formatNumber(value_mW, { unit });
  // As files keep it, so that 1.04 times 0.1 mW is not more than 0.104 mW.
  return formatNumber(Number(value_mW.toPrecision(12)), { unit, digits: 3, rounding: 'up' });
}

/** From here on a t distribution is as good as the normal one; what remains is below 1 % of k. */
const MANY = 200;

/**
 * Degrees of freedom: one decimal below 10, whole above, always downwards (JCGM 100:2008, G.4.1
 * note 1, truncates to the next lower integer); "many" above 200, and one million and more, which
 * stands for a value taken as known exactly, as "∞".
 */
export function formatDegreesOfFreedom(dof: number | null): string {
  if (dof === null) return NO_NUMBER;
  if (dof >= 1e6) return '\u221e';
  if (dof > MANY) return 'many';
  const number = decimalOf(dof);
  return printDecimal(trim(roundDecimal(number, dof < 10 ? -1 : 0, 'floor')));
}

/** "1 series", "2 series", "1 lap", "2 laps". */
export function counted(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** A p value to two significant digits; "< 0.001" and "> 0.99" at the ends. */
export function formatProbability(p: number | null): string {
  if (p === null) return NO_NUMBER;
  if (p < 0.001) return '< 0.001';
  if (p > 0.99) return '> 0.99';
  const number = decimalOf(p);
  return printDecimal(roundDecimal(number, twoDigitPlace(number, 'half-even'), 'half-even'));
}

/** Where the last of two significant digits stands. */
export const twoDigitPlace = (size: Decimal, rule: RoundingRule): number =>
  digitPlace(size, 2, rule);

/** 9.96 becomes 10 and not 10.0: a carry must not add a significant digit. */
function digitPlace(size: Decimal, digits: number, rule: RoundingRule): number {
  const place = (leadingPlace(size) ?? 0) - digits + 1;
  return (leadingPlace(roundDecimal(size, place, rule)) ?? 0) - digits + 1;
}

export function splitPower(value: Decimal, U: Decimal): number {
  const top = Math.max(leadingPlace(value) ?? -Infinity, leadingPlace(U) ?? -Infinity);
  return top < PLAIN_FROM + 1 || top > PLAIN_TO ? top : 0;
}

export function unitOf(options: UnitOptions): string {
  const unit = options.unit ?? (options.as === 'percent' ? '%' : '');
  return unit === '' ? '' : ` ${unit}`;
}

export function superscript(power: number): string {
  const signs = '⁰¹²³⁴⁵⁶⁷⁸⁹';
  const digits = [...String(Math.abs(power))].map((digit) => signs[Number(digit)]).join('');
  return power < 0 ? `⁻${digits}` : digits;
}
