import { requireShape } from '../statistics/shapes.js';

/**
 * How much of the settled value is still missing at a time after switch-on?
 *
 * @param elapsed_s time since switch-on in s, not below 0
 * @param time_constant_s time constant τ in s, above 0
 * @returns e^(−t/τ), a fraction from 1 down to 0
 * @throws argument-wrong
 * Source: first-order step response.
 */
export function missingFraction(elapsed_s: number, time_constant_s: number): number {
  requireShape(elapsed_s, 'The time since switch-on', 'not-negative');
  requireShape(time_constant_s, 'A time constant', 'above-zero');
  return Math.exp(-elapsed_s / time_constant_s);
}

/** Part of a reading that may be missing where it counts as settled (common practice, no source). */
export const COUNTS_AS_SETTLED = 0.01;

/** Above this a correction more than doubles the reading and rests on the model of the sensor (own choice). */
export const MOST_MISSING = 0.5;

/**
 * How long to wait until only a given fraction is missing?
 *
 * @param fraction what may be missing, above 0 and below 1 (0.01 for 1 %)
 * @param time_constant_s time constant τ in s, above 0
 * @returns τ ln(1 / fraction) in s
 * @throws argument-wrong
 * Source: first-order step response.
 */
export function timeToSettle(fraction: number, time_constant_s: number): number {
  requireShape(fraction, 'The fraction that may be missing', 'above-zero');
  requireShape(1 - fraction, 'One minus the fraction that may be missing', 'above-zero');
  requireShape(time_constant_s, 'A time constant', 'above-zero');
  return -time_constant_s * Math.log(fraction);
}
