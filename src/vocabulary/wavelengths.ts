/** What a wavelength gives: factor, budget, verdict; settings and infrared. */
import type { Interval, MeterRole } from './study.js';

/** What a contribution is paid down with: laps, a certificate, a finer display … */
export type ContributionKind =
  | 'repeatability'
  | 'between-series'
  | 'calibration'
  | 'ageing'
  | 'resolution'
  | 'zero'
  | 'setting'
  | 'settling'
  | 'drift'
  | 'power'
  | 'other';

/** One line of an uncertainty budget. */
export interface Contribution {
  /** What it is. */
  readonly name: string;
  /** What it is paid down with. */
  readonly kind: ContributionKind;
  /** A fraction. */
  readonly relative_standard_uncertainty: number;
  /** Degrees of freedom; `KNOWN_EXACTLY` (1e6) stands for infinity, which JSON lacks. */
  readonly dof: number;
  /** How it was evaluated, from scatter (A) or otherwise (B): JCGM 100:2008, 2.3.2 and 2.3.3. */
  readonly type: 'A' | 'B';
  /** Part of the combined variance, 0 to 1. */
  readonly share: number;
  /** Where the number comes from, in words. */
  readonly note: string;
}

/** Degrees of freedom of an uncertainty that is taken as known exactly; JSON has no infinity. */
export const KNOWN_EXACTLY = 1e6;

export type WavelengthVerdict = 'within-tolerance' | 'correct-it' | 'not-shown' | 'inconclusive';

/** What all series of one wavelength give. */
export interface WavelengthResult {
  /** In nm. */
  readonly wavelength_nm: number;
  /** Series that the factor rests on. */
  readonly series: readonly string[];
  /**
   * K and its interval, the whole budget included; with several levels it holds for any power in the range, and is
   * as wide as that needs.
   */
  readonly factor: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** Effective degrees of freedom. */
  readonly dof: number | null;
  /** u; U, the larger distance from K to an end of its interval; fractions. */
  readonly relative_standard_uncertainty: number | null;
  readonly relative_expanded_uncertainty: number | null;
  /** k, half the interval of ln K over u. */
  readonly coverage_factor: number | null;
  /** Spread between series, a fraction. */
  readonly between_series_relative_sd: number | null;
  /**
   * Spread to reckon with in a further series or a corrected reading, a fraction, and its degrees of freedom
   * (docs/methods/wavelengths.md).
   */
  readonly next_series_relative_sd: number | null;
  readonly next_series_dof: number | null;
  /**
   * U of a reading corrected on another day, with the head put up again, its own scatter and display step aside; where
   * K goes by power, at the level known least; a fraction.
   */
  readonly corrected_reading_relative_U: number | null;
  /** Line by line. */
  readonly budget: readonly Contribution[];
  /** What the budget lacks because nobody recorded it. */
  readonly not_in_budget: readonly string[];
  /** By level of power, lowest first: one where one level was measured. Empty without a factor. */
  readonly levels: readonly FactorLevel[];
  /** Whether K differs between the levels. */
  readonly by_power: PowerVerdict;
  /** Indications of the candidate between which the factor was measured, in mW. */
  readonly candidate_range_mW: Interval | null;
  /** What to do with readings (docs/methods/decisions.md). */
  readonly verdict: WavelengthVerdict;
  /** What would improve the uncertainty most, and what the budget lacks. */
  readonly next_step: string;
  /** `next_step` in short, without what the budget lacks; `null` where something else has to be settled first. */
  readonly improvement: string | null;
  /** Reason of the verdict. */
  readonly why: string;
}

/** The factor at one level of power. */
export interface FactorLevel {
  /** Lowest and highest indication of the candidate in its series, mW. */
  readonly candidate_mW: Interval;
  /** Where the level stands between its neighbours: geometric mean of its series, mW. */
  readonly centre_mW: number;
  /** K at this power and its interval, the whole budget included; levels that agree are drawn together. */
  readonly factor: number;
  readonly low: number;
  readonly high: number;
  /** A fraction; degrees of freedom. */
  readonly relative_standard_uncertainty: number;
  readonly dof: number;
  /** Half of the interval on the log scale over the standard uncertainty. */
  readonly coverage_factor: number;
  /**
   * Part of the standard uncertainty that placements leave (its degrees of freedom: those of the next
   * placement, which is known no better), and the degrees of freedom of the rest.
   */
  readonly placement_relative_standard_uncertainty: number;
  /** Degrees of freedom of the other parts. */
  readonly rest_dof: number;
  /**
   * Correlation of that part with the next level's. Left out at the highest level; missing in files of before
   * it was written.
   */
  readonly placement_correlation_with_next?: number;
  /** By the series of this level alone, before levels were drawn together. */
  readonly own: {
    /** K before levels are drawn together. */
    readonly factor: number;
    /** A fraction; degrees of freedom; half the interval of ln K over u. */
    readonly relative_standard_uncertainty: number;
    readonly dof: number;
    readonly coverage_factor: number;
  };
  /** Series of this level. */
  readonly series: readonly string[];
}

/** Whether K differs between the levels of power beyond their seating. Decides nothing. */
export interface PowerVerdict {
  /** Whether it does. */
  readonly verdict: 'differ' | 'not-shown' | 'one-level';
  /** Of equal K at all levels; `null` for one level. */
  readonly p: number | null;
  /** Offset of the candidate that the levels show, mW; `null`: none shown. */
  readonly offset_mW: number | null;
  /** In words. */
  readonly why: string;
}

/** Does one factor serve all wavelengths? */
export interface CommonFactor {
  /** Whether one factor serves all wavelengths. */
  readonly supported: boolean;
  /** Of equal factors. */
  readonly p: number | null;
  /** K and its interval. */
  readonly factor: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** In words. */
  readonly why: string;
}

/**
 * What kind of reading a factor holds for. `settled`: what the sensors show once they have settled;
 * `as-read`: what they show at the reading time, as nobody knows how far they had settled.
 */
export interface ReadingKind {
  /**
   * `settled`: what the sensors show once they have settled; `as-read`: what they show at the reading time, as
   * nobody knows how far they had settled.
   */
  readonly kind: 'settled' | 'as-read';
  /** Reading time of the study in s after switch-on; `null` when not stated. */
  readonly read_at_s: number | null;
  /** Of the candidate's sensor, s; `null`: not known. */
  readonly candidate_time_constant_s: number | null;
  readonly candidate_time_constant_standard_uncertainty_s: number | null;
  /** In words. */
  readonly why: string;
}

/** What one meter shows under two wavelength settings. */
export interface SettingResult {
  /** Names. */
  readonly series: string;
  readonly source: string;
  /** Of the source, nm. */
  readonly wavelength_nm: number;
  /** Which meter was set. */
  readonly meter: MeterRole;
  /** Both settings, nm. */
  readonly from_nm: number;
  readonly to_nm: number;
  /** Reading at `to_nm` over reading at `from_nm`, and its interval. */
  readonly ratio: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** Of the ratio, a fraction; degrees of freedom. */
  readonly relative_standard_uncertainty: number | null;
  readonly dof: number | null;
  /** Remarks, reason of a `null`. */
  readonly why: string;
}

/** Infrared beside the wanted line of a source, from series with and without a filter. */
export interface InfraredResult {
  /** Names. */
  readonly source: string;
  readonly filter: string;
  /** Of the wanted line, nm. */
  readonly wavelength_nm: number;
  /** Power of both parts by the reference, mW. */
  readonly wanted_mW: number | null;
  readonly infrared_mW: number | null;
  /** Infrared part of the unfiltered reading, 0 to 1. */
  readonly infrared_fraction: number | null;
  readonly infrared_fraction_standard_uncertainty: number | null;
  /** Remarks, reason of a `null`. */
  readonly why: string;
}
