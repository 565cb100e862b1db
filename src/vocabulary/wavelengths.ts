/** What a wavelength gives: factor, budget, verdict; settings and infrared. */
import type { Interval, MeterRole } from './study.js';

/** What a contribution is paid down with: laps, a certificate, a finer display … */
export type ContributionKind =
  | 'repeatability'
  | 'between-series'
  | 'calibration'
  | 'resolution'
  | 'zero'
  | 'setting'
  | 'settling'
  | 'drift'
  | 'power'
  | 'other';

/** One line of an uncertainty budget. */
export interface Contribution {
  readonly name: string;
  readonly kind: ContributionKind;
  readonly relative_standard_uncertainty: number;
  /** Degrees of freedom; `KNOWN_EXACTLY` (1e6) stands for infinity, which JSON lacks. */
  readonly dof: number;
  readonly type: 'A' | 'B';
  /** Part of the combined variance, 0 to 1. */
  readonly share: number;
  /** Where the number comes from, in words. */
  readonly note: string;
}

/** Degrees of freedom of an uncertainty that is taken as known exactly; JSON has no infinity. */
export const KNOWN_EXACTLY = 1e6;

export type WavelengthVerdict = 'within-tolerance' | 'correct-it' | 'not-shown' | 'inconclusive';

export interface WavelengthResult {
  readonly wavelength_nm: number;
  readonly series: readonly string[];
  readonly factor: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly dof: number | null;
  readonly relative_standard_uncertainty: number | null;
  readonly relative_expanded_uncertainty: number | null;
  readonly coverage_factor: number | null;
  readonly between_series_relative_sd: number | null;
  /** Spread to reckon with when a reading is corrected on another day, as a fraction, and its dof. */
  readonly next_series_relative_sd: number | null;
  readonly next_series_dof: number | null;
  /** U of a reading corrected on another day, its own scatter and display step aside, a fraction. */
  readonly corrected_reading_relative_U: number | null;
  readonly budget: readonly Contribution[];
  /** What the budget lacks because nobody recorded it. */
  readonly not_in_budget: readonly string[];
  /** By level of power, lowest first: one where one level was measured. Empty without a factor. */
  readonly levels: readonly FactorLevel[];
  readonly by_power: PowerVerdict;
  /** Indications of the candidate between which the factor was measured, in mW. */
  readonly candidate_range_mW: Interval | null;
  readonly verdict: WavelengthVerdict;
  /** What would improve the uncertainty most, and what the budget lacks. */
  readonly next_step: string;
  /** `next_step` in short, without what the budget lacks; `null` where something else has to be settled first. */
  readonly improvement: string | null;
  readonly why: string;
}

/** The factor at one level of power. */
export interface FactorLevel {
  /** Lowest and highest indication of the candidate in its series, mW. */
  readonly candidate_mW: Interval;
  /** Where the level stands between its neighbours: geometric mean of its series, mW. */
  readonly centre_mW: number;
  readonly factor: number;
  readonly low: number;
  readonly high: number;
  readonly relative_standard_uncertainty: number;
  readonly dof: number;
  /** Half of the interval on the log scale over the standard uncertainty. */
  readonly coverage_factor: number;
  /**
   * Part of the standard uncertainty that placements leave (its degrees of freedom: those of the next
   * placement, which is known no better), and the degrees of freedom of the rest.
   */
  readonly placement_relative_standard_uncertainty: number;
  readonly rest_dof: number;
  /**
   * Correlation of that part with the next level's. Left out at the highest level; missing in files of before
   * it was written.
   */
  readonly placement_correlation_with_next?: number;
  /** By the series of this level alone, before levels were drawn together. */
  readonly own: {
    readonly factor: number;
    readonly relative_standard_uncertainty: number;
    readonly dof: number;
    readonly coverage_factor: number;
  };
  readonly series: readonly string[];
}

/** Whether K differs between the levels of power beyond their seating. Decides nothing. */
export interface PowerVerdict {
  readonly verdict: 'differ' | 'not-shown' | 'one-level';
  readonly p: number | null;
  /** Offset of the candidate that the levels show, mW; `null`: none shown. */
  readonly offset_mW: number | null;
  readonly why: string;
}

export interface CommonFactor {
  readonly supported: boolean;
  readonly p: number | null;
  readonly factor: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly why: string;
}

/**
 * What kind of reading a factor holds for. `settled`: what the sensors show once they have settled;
 * `as-read`: what they show at the reading time, as nobody knows how far they had settled.
 */
export interface ReadingKind {
  readonly kind: 'settled' | 'as-read';
  /** Reading time of the study in s after switch-on; `null` when not stated. */
  readonly read_at_s: number | null;
  readonly candidate_time_constant_s: number | null;
  readonly candidate_time_constant_standard_uncertainty_s: number | null;
  readonly why: string;
}

/** What one meter shows under two wavelength settings. */
export interface SettingResult {
  readonly series: string;
  readonly source: string;
  readonly wavelength_nm: number;
  readonly meter: MeterRole;
  readonly from_nm: number;
  readonly to_nm: number;
  /** Reading at `to_nm` over reading at `from_nm`. */
  readonly ratio: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly relative_standard_uncertainty: number | null;
  readonly dof: number | null;
  readonly why: string;
}

/** Infrared beside the wanted line of a source, from series with and without a filter. */
export interface InfraredResult {
  readonly source: string;
  readonly filter: string;
  readonly wavelength_nm: number;
  readonly wanted_mW: number | null;
  readonly infrared_mW: number | null;
  /** Infrared part of the unfiltered reading, 0 to 1. */
  readonly infrared_fraction: number | null;
  readonly infrared_fraction_standard_uncertainty: number | null;
  readonly why: string;
}
