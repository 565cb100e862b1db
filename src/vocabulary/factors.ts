/** What factors.json holds, and what it makes of a reading. */
import type { Interval, Opinion, Warning } from './study.js';
import type { FactorLevel, ReadingKind, WavelengthVerdict } from './wavelengths.js';

/** What the correction step knows about one wavelength. */
export interface FactorEntry {
  readonly wavelength_nm: number;
  readonly factor: number;
  readonly low: number;
  readonly high: number;
  readonly relative_standard_uncertainty: number;
  readonly dof: number;
  readonly relative_expanded_uncertainty: number;
  readonly coverage_factor: number;
  /** Indications of the candidate between which the factor was measured, in mW. */
  readonly candidate_range_mW: Interval;
  /** By level of power, lowest first; at least one. */
  readonly levels: readonly FactorLevel[];
  /** Offset of the candidate that the levels show, mW, which the factor follows; `null`: none. */
  readonly offset_mW: number | null;
  /** Scatter of one candidate reading, as a fraction. */
  readonly reading_relative_sd: number;
  readonly reading_dof: number;
  /**
   * Spread between series (placement, source) to reckon with in a new reading, as a fraction.
   * Missing in files of before it was written.
   */
  readonly next_series_relative_sd?: number;
  readonly next_series_dof?: number;
  readonly verdict: WavelengthVerdict;
  /** Who contradicts the reference at this wavelength; left out where nobody does. */
  readonly reference_contradicted_by?: readonly Opinion['kind'][];
}

/** What factors.json holds: the analysis in the form that corrects new readings. */
export interface Factors {
  readonly schema: 'meterpair.factors/2';
  /** Day of the study, ISO 8601; `null` where the study states none. */
  readonly date: string | null;
  /** When the comparison should be made again. Missing in files of before it was written. */
  readonly recheck_after_months?: number;
  readonly data_sha256: string;
  /** Of the readings alone. Missing in files of before it was written. */
  readonly readings_sha256?: string;
  readonly title: string;
  /** Which readings the factors hold for. Missing in files of before it was written. */
  readonly reading?: ReadingKind;
  /** Multiply a candidate reading by the factor. */
  readonly direction: 'corrected = factor × candidate reading';
  readonly reference: {
    readonly name: string;
    readonly uncertainty_stated: boolean;
    /**
     * Relative standard uncertainty of its calibration, which every factor carries; `null` when not
     * stated. Missing in files of before it was written.
     */
    readonly relative_standard_uncertainty?: number | null;
  };
  readonly candidate: {
    readonly name: string;
    readonly resolution_mW: number | null;
    readonly rated_max_mW: number | null;
  };
  readonly confidence: number;
  readonly tolerance_percent: number;
  readonly wavelength_range_nm: Interval | null;
  readonly factors: readonly FactorEntry[];
  readonly cautions: readonly string[];
}

export interface CorrectedReading {
  /** Corrected power in mW. */
  readonly value: number;
  /** Expanded uncertainty of the corrected power in mW. */
  readonly U: number;
  /** Coverage factor of `U`. */
  readonly k: number;
  readonly low: number;
  readonly high: number;
  readonly factor: number;
  readonly dof: number;
  /** What U is made of, as fractions of the value; `stated: false` counts as 0. */
  readonly parts: readonly {
    readonly name: string;
    readonly relative_standard_uncertainty: number;
    readonly dof: number;
    readonly stated: boolean;
  }[];
  readonly cautions: readonly Warning[];
}
