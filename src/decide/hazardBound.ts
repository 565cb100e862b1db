/** The most that a source was seen to emit, and the most that the readings leave open. */
import { saidBy } from '../correct/index.js';
import { significant } from '../statistics/digits.js';
import { normalQuantile } from '../statistics/distributions.js';
import type { HazardInput, HazardReading, MeasuredElsewhere } from './hazardInput.js';
import { displayStep, UNSTATED_EXPANDED_UNCERTAINTY } from './hazardInput.js';

export interface HazardBound {
  readonly highest_mW: number;
  readonly upper_mW: number;
  /** Which reading it was, in words. */
  readonly text: string;
  /** The measurement by others that set the upper bound, in words; `null` when a reading did. */
  readonly elsewhere: string | null;
}

/**
 * Highest corrected reading and the largest upper bound of any reading, both in mW.
 *
 * The upper bound of a reading is (reading + one display step) × (1 + U) for the reference and
 * (reading + one display step) × K_high for the candidate. One step is half for the indication and
 * half for the zero, and covers a display that cuts off digits. The parts are added, not combined
 * in quadrature: FDA, HEW 76-8036, 3.5 calls the linear sum the simple way. A certificate or a third
 * meter that leaves more open than the readings raises the upper bound to value + U.
 *
 * @returns `null` without readings
 */
export function hazardBound(input: HazardInput): HazardBound | null {
  let highest: { readonly reading: HazardReading; readonly power_mW: number } | null = null;
  let upper_mW = Number.NEGATIVE_INFINITY;
  for (const reading of input.readings) {
    const shown_mW = highestShown(reading);
    const candidate = reading.meter === 'candidate';
    const power_mW = shown_mW * (candidate ? (input.factor?.value ?? 1) : 1);
    // A display at or below zero still leaves one step of power unseen.
    const most_mW = Math.max(0, shown_mW) + displayStep(input, reading.meter);
    upper_mW = Math.max(upper_mW, most_mW * upperScale(input, candidate));
    if (highest === null || power_mW > highest.power_mW) highest = { reading, power_mW };
  }
  if (highest === null) return null;
  const { power_mW, reading } = highest;
  const text = `Highest ${short(power_mW)} mW (${describe(reading, input)}), up to ${roundedUp(upper_mW)} mW with its uncertainty.`;
  const other = highestElsewhere(input);
  if (other === null || !(other.upper_mW > upper_mW)) {
    return { highest_mW: power_mW, upper_mW, text, elsewhere: null };
  }
  return {
    highest_mW: power_mW,
    upper_mW: other.upper_mW,
    text,
    elsewhere: `${saidBy(other.kind)} says ${short(other.value_mW)} mW, which leaves up to ${roundedUp(other.upper_mW)} mW open, more than these readings do; the higher bound counts.`,
  };
}

function highestElsewhere(
  input: HazardInput,
): (MeasuredElsewhere & { readonly upper_mW: number }) | null {
  const bounds = (input.elsewhere ?? []).map((one) => ({
    ...one,
    upper_mW:
      one.standardUncertainty_mW === null
        ? one.value_mW * (1 + UNSTATED_EXPANDED_UNCERTAINTY)
        : one.value_mW + leastCoverage(input) * one.standardUncertainty_mW,
  }));
  return bounds.reduce<(typeof bounds)[number] | null>(
    (most, one) => (most === null || one.upper_mW > most.upper_mW ? one : most),
    null,
  );
}

/** Coverage factor of the study's confidence, and never below 2. */
function leastCoverage(input: HazardInput): number {
  return Math.max(2, normalQuantile(0.5 + input.confidence / 2));
}

function highestShown(reading: HazardReading): number {
  return reading.peak_mW === null
    ? reading.reading_mW
    : Math.max(reading.reading_mW, reading.peak_mW);
}

/** What the true power may be, at most, per mW shown. */
function upperScale(input: HazardInput, candidate: boolean): number {
  const { expanded_uncertainty_percent: percent, coverage_factor } = input.reference;
  const expanded =
    percent === null
      ? UNSTATED_EXPANDED_UNCERTAINTY
      : (percent / 100 / coverage_factor) * leastCoverage(input);
  // Without K nothing ties the candidate to the reference: it gets the reference's allowance only,
  // and a warning says so.
  if (!candidate || input.factor === null) return 1 + expanded;
  // The interval of K holds the reference's uncertainty where that is stated.
  return percent === null ? input.factor.high * (1 + expanded) : input.factor.high;
}

function describe(reading: HazardReading, input: HazardInput): string {
  const shown_mW = highestShown(reading);
  const factor = reading.meter === 'candidate' ? input.factor : null;
  return [
    reading.meter,
    shown_mW > reading.reading_mW ? 'peak' : '',
    factor === null ? '' : `${short(shown_mW)} mW × ${short(factor.value)}`,
    reading.place,
    reading.excluded ? 'a run that the factor leaves out' : '',
  ]
    .filter((part) => part !== '')
    .join(', ');
}

const short = (value: number) => significant(value, 4);

/** An upper bound is never rounded down. */
function roundedUp(value: number): string {
  if (!(value > 0)) return short(value);
  const place = 10 ** (Math.floor(Math.log10(value)) - 3);
  return short(Math.ceil(value / place - 1e-9) * place);
}
