/** What a trace says about its sensor, or why it says nothing. */
import type { Interval, Warning } from '../vocabulary.js';

export interface TraceEstimate {
  readonly value: number;
  readonly standard_uncertainty: number;
  readonly interval: Interval;
}

export type StepResponseRefusal =
  | 'too-few-readings'
  | 'no-rise'
  | 'overshoot'
  | 'too-short'
  | 'rise-not-sampled'
  | 'no-fit';

export type StepResponse =
  | {
      readonly status: 'fitted';
      readonly time_constant_s: TraceEstimate;
      /** Where the reading goes (with a drift: power at the onset), in mW. */
      readonly settled_mW: TraceEstimate;
      /** Switch-on; without uncertainty when it was given, not fitted. */
      readonly onset_s:
        | TraceEstimate
        | { readonly value: number; readonly standard_uncertainty: null };
      /** Change of the source per second as a fraction, negative: it falls; `null`: not fitted. */
      readonly relative_drift_per_s: TraceEstimate | null;
      readonly residual_sd_mW: number;
      readonly dof: number;
      readonly readings: number;
      /** Time from onset to the last reading in time constants. */
      readonly length_in_time_constants: number;
      /** Correlation of neighbouring residuals: near 0 when the model holds. */
      readonly residual_correlation: number;
      readonly residuals_mW: readonly number[];
      readonly warnings: readonly Warning[];
    }
  | {
      readonly status: 'refused';
      readonly reason: StepResponseRefusal;
      readonly why: string;
      /** What the trace says about τ all the same; `null` at an end that it leaves open. */
      readonly time_constant_bounds_s: readonly [low: number | null, high: number | null];
    };

export function refused(
  reason: StepResponseRefusal,
  why: string,
  bounds: readonly [number | null, number | null] = [null, null],
): StepResponse {
  return { status: 'refused', reason, why, time_constant_bounds_s: bounds };
}
