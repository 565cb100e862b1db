/** Factors of earlier studies against those of this one. */
import type { Interval } from './study.js';

/** An earlier factor against the one of this study. */
export interface ChangeOfFactor {
  /** In nm. */
  readonly wavelength_nm: number;
  /** K then and now. */
  readonly earlier_factor: number | null;
  readonly factor: number | null;
  /** K now ÷ K then − 1, percent, and its interval; positive: the candidate reads lower than it did. */
  readonly change_percent: number | null;
  readonly low_percent: number | null;
  readonly high_percent: number | null;
  /** Of the change, as a fraction, without what both factors have in common. */
  readonly relative_standard_uncertainty: number | null;
  readonly dof: number | null;
  /** Whether the factor has moved (docs/methods/decisions.md). */
  readonly verdict: 'within' | 'moved' | 'not-shown' | 'not-comparable';
  /** In words. */
  readonly why: string;
}

/** The factors of an earlier study against those of this one. */
export interface ThenAndNow {
  /** Of the earlier study. */
  readonly earlier_title: string;
  readonly earlier_data_sha256: string;
  /** Its day; `null`: not stated. */
  readonly earlier_date: string | null;
  /** How much later this study is; negative: it is the earlier one; `null`: a date is missing. */
  readonly months_between: number | null;
  /** Whether both studies lean on the same reference under the same stated uncertainty. */
  readonly same_reference: boolean;
  /** Relative standard uncertainty left out as common to both; `null`: nothing was left out. */
  readonly common_relative_standard_uncertainty: number | null;
  /** Every wavelength of either study. */
  readonly wavelengths: readonly ChangeOfFactor[];
  /** What was counted. */
  readonly why: string;
}

/** What a value on a control chart breaks, in the order of how loudly it speaks. */
export type ChartSignal =
  | 'beyond the limits'
  | 'two of three beyond two thirds of the limit'
  | 'four of five beyond a third of the limit'
  | 'eight in a row on one side'
  | 'beyond the limits from the uncertainty';

/** The factor of one wavelength at one time, among several times. */
export interface ReCheck {
  /** Of its study. */
  readonly title: string;
  /** Its day; `null`: not stated. */
  readonly date: string | null;
  /** Of its study. */
  readonly data_sha256: string;
  /** K; `null`: not on the chart. */
  readonly factor: number | null;
  /** Interval at the study's confidence, without what all values of the chart have in common. */
  readonly low: number | null;
  readonly high: number | null;
  /** As a fraction, without what all values have in common. */
  readonly relative_standard_uncertainty: number | null;
  /** Rules that it breaks. */
  readonly signals: readonly ChartSignal[];
  /** In words. */
  readonly why: string;
}

/**
 * The factors of one wavelength from several studies on a control chart. Out of control, the warning
 * `re-checks-out-of-control` says so; in control, and yet moved between the first value and the last,
 * `factor-moved-since-first` does.
 */
export interface ReChecks {
  /** In nm. */
  readonly wavelength_nm: number;
  /** In time order where all have a date, else as given, the study itself last. */
  readonly values: readonly ReCheck[];
  /** Whether all values lean on the same reference under the same stated uncertainty. */
  readonly same_reference: boolean;
  /** Relative standard uncertainty left out as common to all; `null`: nothing was left out. */
  readonly common_relative_standard_uncertainty: number | null;
  /** Geometric mean of the factors; `null` below three values. */
  readonly centre: number | null;
  /** Centre ± 3 standard deviations from the mean moving range, on ln K. */
  readonly limits: Interval | null;
  /** Centre ± 3 root-mean-square standard uncertainties, on ln K. */
  readonly limits_from_uncertainty: Interval | null;
  /** Scatter found over scatter that the uncertainties explain. */
  readonly scatter_ratio: number | null;
  /** The last value on the chart against the first. */
  readonly since_first: ChangeOfFactor | null;
  /** Whether no value breaks a rule; `null`: nothing can be judged. */
  readonly in_control: boolean | null;
  /** In words. */
  readonly why: string;
}
