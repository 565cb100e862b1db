/** Factors of earlier studies against those of this one. */
import type { Interval } from './study.js';

/** An earlier factor against the one of this study. */
export interface ChangeOfFactor {
  readonly wavelength_nm: number;
  readonly earlier_factor: number | null;
  readonly factor: number | null;
  /** Factor now ÷ factor then − 1, in percent, with its interval at the study's confidence. */
  readonly change_percent: number | null;
  readonly low_percent: number | null;
  readonly high_percent: number | null;
  /** Of the change, as a fraction, without what both factors have in common. */
  readonly relative_standard_uncertainty: number | null;
  readonly dof: number | null;
  readonly verdict: 'within' | 'moved' | 'not-shown' | 'not-comparable';
  readonly why: string;
}

/** The factors of an earlier study against those of this one. */
export interface ThenAndNow {
  readonly earlier_title: string;
  readonly earlier_data_sha256: string;
  readonly earlier_date: string | null;
  /** How much later this study is; negative: it is the earlier one; `null`: a date is missing. */
  readonly months_between: number | null;
  /** Whether both studies lean on the same reference under the same stated uncertainty. */
  readonly same_reference: boolean;
  /** Relative standard uncertainty left out as common to both; `null`: nothing was left out. */
  readonly common_relative_standard_uncertainty: number | null;
  readonly wavelengths: readonly ChangeOfFactor[];
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
  readonly title: string;
  readonly date: string | null;
  readonly data_sha256: string;
  /** `null`: not on the chart. */
  readonly factor: number | null;
  /** Interval at the study's confidence, without what all values of the chart have in common. */
  readonly low: number | null;
  readonly high: number | null;
  /** As a fraction, without what all values have in common. */
  readonly relative_standard_uncertainty: number | null;
  readonly signals: readonly ChartSignal[];
  readonly why: string;
}

/** The factors of one wavelength from several studies on a control chart. */
export interface ReChecks {
  readonly wavelength_nm: number;
  /** In time order where all have a date, else as given, the study itself last. */
  readonly values: readonly ReCheck[];
  /** Whether all values lean on the same reference under the same stated uncertainty. */
  readonly same_reference: boolean;
  /** Relative standard uncertainty left out as common to all; `null`: nothing was left out. */
  readonly common_relative_standard_uncertainty: number | null;
  /** Geometric mean of the factors. */
  readonly centre: number | null;
  /** Limits from the scatter of the values. */
  readonly limits: Interval | null;
  /** Limits from their uncertainties. */
  readonly limits_from_uncertainty: Interval | null;
  /** Scatter found over scatter that the uncertainties explain. */
  readonly scatter_ratio: number | null;
  /** The last value on the chart against the first. */
  readonly since_first: ChangeOfFactor | null;
  readonly in_control: boolean | null;
  readonly why: string;
}
