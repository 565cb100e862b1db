/** What the hazard judgement is told about a source. */
import { argumentWrong } from '../error.js';
import type { Meter, MeterRole, Opinion, Source } from '../vocabulary.js';

/** One run of the source, whether or not the calibration used it. */
export interface HazardReading {
  readonly meter: MeterRole;
  readonly reading_mW: number;
  readonly peak_mW: number | null;
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
  readonly candidate: Meter;
  /** The factor at this wavelength with its interval; `null` when there is none. */
  readonly factor: { readonly value: number; readonly low: number; readonly high: number } | null;
  /** Confidence of the intervals, 0 to 1. */
  readonly confidence: number;
  /** Measurements of the source by others; they can raise the bound, never lower it. */
  readonly elsewhere?: readonly MeasuredElsewhere[];
  /** Whether a filter has separated the infrared (then the readings are the visible light alone). */
  readonly infraredSeparated?: boolean;
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

/** @throws argument-wrong for the first input that is out of range */
export function checkHazardInput(input: HazardInput): void {
  for (const { reading_mW, peak_mW } of input.readings) {
    if (!Number.isFinite(reading_mW)) {
      throw argumentWrong('A reading must be a finite number of mW.', reading_mW);
    }
    if (peak_mW !== null && !Number.isFinite(peak_mW)) {
      throw argumentWrong('A peak must be a finite number of mW.', peak_mW);
    }
  }
  for (const { value_mW, standardUncertainty_mW: u } of input.elsewhere ?? []) {
    if (!Number.isFinite(value_mW) || (u !== null && !(u >= 0 && Number.isFinite(u)))) {
      throw argumentWrong('A value from elsewhere must be finite, its uncertainty 0 or more.');
    }
  }
  const { factor, confidence } = input;
  if (factor !== null) {
    const { value, low, high } = factor;
    if (![value, low, high].every(Number.isFinite) || !(value > 0) || low > value || high < value) {
      throw argumentWrong(
        'A factor must be above 0 and lie within its interval.',
        `${value} in [${low}, ${high}]`,
      );
    }
  }
  if (!(confidence > 0 && confidence < 1)) {
    throw argumentWrong('A confidence must lie between 0 and 1.', confidence);
  }
}

/** The display step of a meter: stated, or else the step that the recorded digits show; mW. */
export function displayStep(input: HazardInput, meter: MeterRole): number {
  const stated = input[meter].resolution_mW;
  if (stated !== null) return stated;
  const values = input.readings
    .filter((reading) => reading.meter === meter)
    .flatMap(({ reading_mW, peak_mW }) =>
      peak_mW === null ? [reading_mW] : [reading_mW, peak_mW],
    );
  for (let digits = 0; digits < 6; digits++) {
    const scale = 10 ** digits;
    if (values.every((value) => Math.abs(value * scale - Math.round(value * scale)) < 1e-6)) {
      return 1 / scale;
    }
  }
  return 1e-6;
}
