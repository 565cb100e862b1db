/** What factors.json holds, and what it makes of a reading. */
import type { Interval, Opinion, Warning } from './study.js';
import type { FactorLevel, ReadingKind, WavelengthVerdict } from './wavelengths.js';

/** What the correction step knows about one wavelength. */
export interface FactorEntry {
  /** In nm. */
  readonly wavelength_nm: number;
  /** K and its interval. */
  readonly factor: number;
  readonly low: number;
  readonly high: number;
  /** A fraction; degrees of freedom. */
  readonly relative_standard_uncertainty: number;
  readonly dof: number;
  /** U as a fraction, k. */
  readonly relative_expanded_uncertainty: number;
  readonly coverage_factor: number;
  /** Indications of the candidate between which the factor was measured, in mW. */
  readonly candidate_range_mW: Interval;
  /** K by level of power; `correct` takes the one of the reading's own power, or goes between two. */
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
  /** As for the wavelength in result.json. */
  readonly verdict: WavelengthVerdict;
  /**
   * Kinds of values from elsewhere that contradict the reference here;
   * every correction with this factor says so.
   */
  readonly reference_contradicted_by?: readonly Opinion['kind'][];
}

/** What factors.json holds: the analysis in the form that corrects new readings. */
export interface Factors {
  /** Version of this file. */
  readonly schema: 'meterpair.factors/2';
  /** Day of the study, ISO 8601; `null` where the study states none. */
  readonly date: string | null;
  /**
   * When the comparison should be made again: `correct` cautions whoever uses older factors; 12 where it is
   * missing.
   */
  readonly recheck_after_months?: number;
  /** Fingerprint of the data that the factors come from. */
  readonly data_sha256: string;
  /** Of the readings alone. Missing in files of before it was written. */
  readonly readings_sha256?: string;
  /** Of the study. */
  readonly title: string;
  /** Which readings the factors hold for. Missing in files of before it was written. */
  readonly reading?: ReadingKind;
  /** Multiply a candidate reading by the factor. */
  readonly direction: 'corrected = factor × candidate reading';
  /** What the factors are relative to. */
  readonly reference: {
    /** Of the reference. */
    readonly name: string;
    /** `false`: the factors are relative to this reference only. */
    readonly uncertainty_stated: boolean;
    /**
     * Relative standard uncertainty of its calibration, which every factor carries; `null` when not
     * stated. Missing in files of before it was written.
     */
    readonly relative_standard_uncertainty?: number | null;
  };
  /** The one unit that they hold for. */
  readonly candidate: {
    /** Of the candidate. */
    readonly name: string;
    /** In mW. */
    readonly resolution_mW: number | null;
    readonly rated_max_mW: number | null;
  };
  /** Level of the intervals, a fraction. */
  readonly confidence: number;
  /** In percent. */
  readonly tolerance_percent: number;
  /** Outside of it there is no correction, nm. */
  readonly wavelength_range_nm: Interval | null;
  /** One a wavelength. */
  readonly factors: readonly FactorEntry[];
  /** For everybody who uses a factor. */
  readonly cautions: readonly string[];
}

/** A corrected reading. */
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
