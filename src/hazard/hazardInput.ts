/** What the hazard judgement is told about a source. */

import { argumentWrong } from '../error.js';
import { normalQuantile } from '../statistics/distributions.js';
import { requireConfidence } from '../statistics/options.js';
import type { Estimate } from '../statistics/randomEffects.js';
import { requireShape, type Shape } from '../statistics/shapes.js';
import type { Meter, MeterRole, Opinion, Source } from '../vocabulary.js';

/** One run of the source, whether or not the calibration used it. */
export interface HazardReading {
  readonly meter: MeterRole;
  /** Highest indication of the run, zero subtracted, brought to a settled one where that is known; mW. */
  readonly highest_mW: number;
  /** The same with the time constant of the sensor at its upper end; what the bound is made of. */
  readonly most_mW: number;
  /** The most that the display itself said: half a step above it, nothing but the zero subtracted. */
  readonly shown_mW: number;
  /** One step of the display, in mW of `highest_mW`. */
  readonly step_mW: number;
  /** Whether a peak was recorded in the run, and whether it is the highest indication. */
  readonly peak: 'none' | 'recorded' | 'highest';
  /** Part that a filter in front of the meter let through, with its standard uncertainty; 1 for none. */
  readonly transmission: Estimate;
  /**
   * Factor of the candidate at this wavelength and power, and the most it may be with 95 % confidence
   * or more; `null` for the reference, and where the candidate has none.
   */
  readonly factor: { readonly value: number; readonly high: number } | null;
  /** Why nothing bounds the power that this reading may stand for; `null` where its uncertainty does. */
  readonly unbounded: string | null;
  /** Where to find it, in words; used in the explanation. */
  readonly place: string;
  /** Whether the calibration left it out: it counts here all the same. */
  readonly excluded: boolean;
}

/** What somebody else measured of the source. */
export interface MeasuredElsewhere {
  readonly kind: Exclude<Opinion['kind'], 'maker'>;
  readonly value_mW: number;
  /** `null` when not stated. */
  readonly standardUncertainty_mW: number | null;
}

export interface HazardInput {
  readonly source: Source;
  /** Every run of the source on either meter: excluded runs, cold starts and peaks included. */
  readonly readings: readonly HazardReading[];
  readonly reference: Meter;
  /** Confidence of the intervals, 0 to 1; never taken below 0.95 here. */
  readonly confidence: number;
  /** Measurements of the source by others; they can raise the bound, never lower it. */
  readonly elsewhere?: readonly MeasuredElsewhere[];
  /** Meters whose readings count as settled only because nobody said when they were taken. */
  readonly takenAsSettled?: readonly MeterRole[];
  /**
   * What a filter told of infrared beside the line: the largest part of the light that it may be (0 to
   * 1), and words; `null` where nobody separated it, and all of the light may be infrared.
   */
  readonly infrared?: { readonly mostFraction: number; readonly why: string } | null;
  /** Half-width of the range the wavelength may lie in, nm (default `WAVELENGTH_TOLERANCE_NM`). */
  readonly wavelengthTolerance_nm?: number;
  /** Relative standard deviation of a single reading of each meter; `null` when not known. */
  readonly repeatability?: { readonly reference: number | null; readonly candidate: number | null };
}

/** A diode sold by a nominal wavelength may emit this far from it (common practice, no source). */
export const WAVELENGTH_TOLERANCE_NM = 5;

/**
 * Expanded relative uncertainty taken for a reference that states none, for this purpose only
 * (common practice, no source: twice the 5 % of budget meters).
 */
export const UNSTATED_EXPANDED_UNCERTAINTY = 0.1;

/** No bound of the hazard stage is narrower than at this confidence, whatever the study states. */
export const LEAST_HAZARD_CONFIDENCE = 0.95;

/** Coverage factor of a normal distribution at the study's confidence, and never below 2. */
export function leastCoverage(confidence: number): number {
  return Math.max(2, normalQuantile(0.5 + confidence / 2));
}

const READING: Shape = {
  fields: {
    highest_mW: 'number',
    most_mW: 'number',
    shown_mW: 'number',
    step_mW: 'not-negative',
    transmission: { fields: { value: 'above-zero', standardUncertainty: 'not-negative' } },
    factor: { orNull: { fields: { value: 'above-zero', high: 'any-number' } } },
  },
};
const ELSEWHERE: Shape = {
  fields: { value_mW: 'number', standardUncertainty_mW: { orNull: 'not-negative' } },
};

/** @throws argument-wrong for the first input that is out of range */
export function checkHazardInput(input: HazardInput): void {
  for (const one of input.elsewhere ?? []) requireShape(one, 'A value from elsewhere', ELSEWHERE);
  for (const one of input.readings) {
    requireShape(one, 'A reading', READING);
    const { transmission, factor } = one;
    if (transmission.value > 1) {
      throw argumentWrong('A transmission must lie above 0 and up to 1.', transmission.value);
    }
    if (factor !== null && !(factor.high >= factor.value)) {
      throw argumentWrong(
        'A factor must not be above its upper end.',
        `${factor.value}, up to ${factor.high}`,
      );
    }
  }
  requireConfidence(input.confidence);
}
