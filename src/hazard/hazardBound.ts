/** The most that a source was seen to emit, and the most that the readings leave open. */

import { formatPower, significant } from '../findings/formatNumber.js';
import { saidBy } from '../opinions/saidBy.js';
import { statedRelative } from '../readings/certificate.js';
import { extremes } from '../statistics/summary.js';
import type { HazardInput, HazardReading, MeasuredElsewhere } from './hazardInput.js';
import { leastCoverage, UNSTATED_EXPANDED_UNCERTAINTY } from './hazardInput.js';

export interface HazardBound {
  readonly highest_mW: number;
  /** `null` where nothing bounds it. */
  readonly upper_mW: number | null;
  /** Which reading was the highest, in words: meter, peak, series, run. */
  readonly seen: string;
  /** Which reading it was, and what sets the bound, in words. */
  readonly text: string;
  /** The measurement by others that set the upper bound, in words; `null` when a reading did. */
  readonly elsewhere: string | null;
  /** Why nothing bounds the power, in words; `null` where something does. */
  readonly unbounded: string | null;
}

/**
 * Highest corrected reading and the largest upper bound of any reading, both in mW in front of any
 * filter.
 *
 * The upper bound of a reading is (reading + one display step) × (1 + U) for the reference and
 * (reading + one display step) × the upper end of K for the candidate, divided by the least that a
 * filter may let through. One step is half for the indication and half for the zero, and covers a
 * display that cuts off digits. The parts are added, not combined in quadrature: FDA, HEW 76-8036,
 * 3.5 calls the linear sum the simple way. No reading counts as less than its display showed, half a
 * step added: a factor may be absurd. A certificate or a third meter that leaves more open than the readings raises the
 * upper bound to value + U.
 *
 * @returns `null` without readings
 */
export function hazardBound(input: HazardInput): HazardBound | null {
  const [first] = input.readings;
  if (first === undefined) return null;
  const highest = input.readings.reduce(
    (most, one) => (seen(one) > seen(most) ? one : most),
    first,
  );
  const power_mW = seen(highest);
  const upper = upperOf(input);
  const bounds = input.readings.map(upper);
  const open = input.readings[bounds.indexOf(null)];
  const byReadings = extremes(bounds.map((one) => one ?? 0))[1];
  const shown = input.readings.reduce((most, one) => (raw(one) > raw(most) ? one : most), first);
  const upper_mW = Math.max(byReadings, raw(shown));
  const where = describe(highest);
  const head = `Highest ${short(power_mW)} mW (${where})`;
  const by =
    raw(shown) > byReadings
      ? `by what the ${shown.meter} itself showed, half a display step counted (${shown.place}), which no factor may hide`
      : 'with its uncertainty';
  const other = highestElsewhere(input);
  const bound = { highest_mW: power_mW, upper_mW, seen: where, elsewhere: null, unbounded: null };
  if (open !== undefined) {
    const text = `${head}, and nothing bounds what it may be.`;
    return { ...bound, upper_mW: null, text, unbounded: whyOpen(open) };
  }
  const text = `${head}, up to ${upTo(upper_mW)} ${by}.`;
  if (other === null || !(other.upper_mW > upper_mW)) return { ...bound, text };
  return {
    ...bound,
    upper_mW: other.upper_mW,
    text,
    elsewhere: `${saidBy(other.kind)} says ${short(other.value_mW)} mW, which leaves up to ${upTo(other.upper_mW)} open, more than these readings do; the higher bound counts.`,
  };
}

/** Power by a reading, in front of any filter: corrected, or as shown where there is no factor. */
function seen({ highest_mW, factor, transmission }: HazardReading): number {
  return (highest_mW * (factor?.value ?? 1)) / transmission.value;
}

const raw = ({ shown_mW, transmission }: HazardReading) => shown_mW / transmission.value;

/** The most that a reading leaves open; `null` where nothing bounds it. */
function upperOf({ confidence, reference }: HazardInput): (one: HazardReading) => number | null {
  const k = leastCoverage(confidence);
  const u = statedRelative(reference);
  const calibration = 1 + (u === null ? UNSTATED_EXPANDED_UNCERTAINTY : k * u);
  return ({ transmission, unbounded, meter, factor, most_mW: most, step_mW }) => {
    const least = transmission.value - k * transmission.standardUncertainty;
    if (unbounded !== null || !(least > 0)) return null;
    if (meter === 'candidate' && factor === null) return null;
    // A display at or below zero still leaves one step of power unseen.
    const most_mW = (Math.max(0, most) + step_mW) / least;
    if (factor === null) return most_mW * calibration;
    // The interval of K holds the reference's uncertainty where that is stated.
    return most_mW * factor.high * (u === null ? calibration : 1);
  };
}

function whyOpen({ unbounded, meter, factor, place }: HazardReading): string {
  if (unbounded !== null) return unbounded;
  return meter === 'candidate' && factor === null
    ? `the candidate has no factor at this wavelength and power (${place}), so nothing ties what it shows to a power. Compare it with the reference there, at least two laps and better five, or measure this source with the reference.`
    : `the transmission of the filter (${place}) is too uncertain to bound anything.`;
}

function highestElsewhere(
  input: HazardInput,
): (MeasuredElsewhere & { readonly upper_mW: number }) | null {
  const bounds = (input.elsewhere ?? []).map((one) => ({
    ...one,
    upper_mW:
      one.standardUncertainty_mW === null
        ? one.value_mW * (1 + UNSTATED_EXPANDED_UNCERTAINTY)
        : one.value_mW + leastCoverage(input.confidence) * one.standardUncertainty_mW,
  }));
  return bounds.reduce<(typeof bounds)[number] | null>(
    (most, one) => (most === null || one.upper_mW > most.upper_mW ? one : most),
    null,
  );
}

function describe(one: HazardReading): string {
  const { factor, transmission } = one;
  return [
    one.meter,
    one.peak === 'highest' ? 'peak' : '',
    factor === null && transmission.value === 1
      ? ''
      : `${short(one.highest_mW)} mW${factor === null ? '' : ` × ${short(factor.value)}`}${transmission.value === 1 ? '' : ` ÷ ${short(transmission.value)} of the filter`}`,
    one.place,
    one.excluded ? 'a run that the factor leaves out' : '',
  ]
    .filter((part) => part !== '')
    .join(', ');
}

const short = (value: number) => significant(value, 4);
const upTo = (value_mW: number) => formatPower(value_mW, { up: true });
