/** Whether the factor depends on the power. */
import type { Interval } from './study.js';

/** A bend of candidate ÷ reference towards the top of the range. */
export interface PowerBend {
  /** Whether a bend is shown, and which way. */
  readonly verdict:
    | 'reads-low-at-the-top'
    | 'reads-high-at-the-top'
    | 'not-shown'
    | 'not-computable';
  /** Candidate at the top against its gain at low power, percent, with its interval; negative: it reads low. */
  readonly at_top_percent: number | null;
  readonly low_percent: number | null;
  readonly high_percent: number | null;
  /** Of no bend, two-sided; degrees of freedom. */
  readonly p: number | null;
  readonly dof: number | null;
  /** Mean of the reference in the highest series, in mW. */
  readonly top_mW: number | null;
  /** What it was judged by, reason of a `null`. */
  readonly why: string;
}

/** Does the correction need an offset beside the factor: corrected = offset + factor · candidate? */
export interface PowerOffset {
  /** Whether an offset is shown. */
  readonly verdict: 'offset-shown' | 'offset-not-shown' | 'not-computable';
  /** In mW, to add to the corrected reading, with its interval. */
  readonly offset_mW: number | null;
  readonly low_mW: number | null;
  readonly high_mW: number | null;
  /** Factor beside that offset. */
  readonly factor: number | null;
  /** Of no offset. */
  readonly p: number | null;
  /** In words. */
  readonly why: string;
}

/** Error of corrected readings of a series that the correction has not seen. */
export interface LeftOutPrediction {
  /** How many series the others can predict. */
  readonly predicted: number;
  /** Root mean square of corrected ÷ reference − 1, in percent; and without any correction. */
  readonly rms_error_percent: number | null;
  readonly uncorrected_rms_error_percent: number | null;
  /** One by one. */
  readonly series: readonly {
    /** Name of the series. */
    readonly id: string;
    /** Positive: the corrected reading lies above the reference. */
    readonly error_percent: number | null;
    /** Reason of a `null`. */
    readonly why: string;
  }[];
  /** What it does not show. */
  readonly why: string;
}

/** Whether the factor depends on the power: one point a series. */
export interface PowerDependence {
  /** In nm; `null`: all of them. */
  readonly wavelength_nm: number | null;
  /** One point each. */
  readonly series: readonly string[];
  /** Lowest and highest series mean of the reference, in mW. */
  readonly range_mW: Interval | null;
  /** Judged by the scatter of these series alone. */
  readonly bend: PowerBend;
  /** Judged by the scatter between series that the rest of the study shows, or its default. */
  readonly bend_by_pooled_scatter: PowerBend;
  /** Corrected = offset + factor · candidate? */
  readonly offset: PowerOffset;
  /** Each series predicted from the others. */
  readonly prediction: LeftOutPrediction;
}

/** Does the factor depend on the power, wavelength by wavelength and over all of them? */
export interface PowerResult {
  /** Ascending. */
  readonly by_wavelength: readonly PowerDependence[];
  /** Each wavelength with a gain of its own. */
  readonly overall: PowerDependence;
}

/** Powers so many times apart count as different, and a change with the power is looked for (common practice, no source). */
export const POWERS_APART = 1.5;
