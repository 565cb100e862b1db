import type { Warning } from '../vocabulary.js';
import type { TraceReadings } from './readTrace.js';
import { type FoundResponse, searchStepResponse } from './searchStepResponse.js';
import type { StepResponse, TraceEstimate } from './stepResponse.js';
import { type Bounds, stepResponseBounds } from './stepResponseBounds.js';
import { DRIFT, ONSET, SETTLED, TIME_CONSTANT } from './stepResponseCurve.js';
import {
  type StepResponseOptions,
  type StepResponseTask,
  stepResponseTask,
} from './stepResponseTask.js';
import { unfitTrace } from './unfitTrace.js';

/**
 * Fits the first-order step response P∞ (1 − e^(−(t − t0)/τ)) to a trace: how fast does this sensor
 * settle and where does its reading go?
 *
 * A long trace is thinned for the search by what its time constant needs; the estimates are those of all
 * readings.
 *
 * @param trace readings of one run, in mW, times in s that do not run backwards, zero subtracted
 * @param options see `StepResponseOptions`
 * @returns the fit with profile-likelihood intervals, or a refusal with its reason: too few readings,
 *   no rise, an overshoot, a trace too short to tell, or a rise that ended before it was sampled
 * @throws argument-wrong
 * Source: first-order step response as in maker's application notes; intervals: D. M. Bates, D. G.
 * Watts (1988), Nonlinear Regression Analysis, section 6.1.
 */
export function fitStepResponse(
  trace: TraceReadings,
  options: StepResponseOptions = {},
): StepResponse {
  const task = stepResponseTask(trace, options);
  const unfit = unfitTrace(task);
  if (unfit !== null) return unfit;
  const found = searchStepResponse(task);
  if ('status' in found) return found;
  const bounds = stepResponseBounds(task, found);
  return 'status' in bounds ? bounds : fitted(task, found, bounds);
}

/** The fit as a record, in the trace's own times. */
function fitted(
  { trace, shift_s, drift, heldOnset_s }: StepResponseTask,
  { fit, fixed }: FoundResponse,
  { tau, settled, sd, coverage, length }: Bounds,
): StepResponse {
  const u = (parameter: number) =>
    sd * Math.sqrt(Math.max(0, fit.unscaledCovariance[parameter][parameter]));
  const estimate = (parameter: number, interval: TraceEstimate['interval']): TraceEstimate => ({
    value: fit.parameters[parameter],
    standard_uncertainty: u(parameter),
    interval,
  });
  const linear = (parameter: number, shift = 0): TraceEstimate => {
    const value = fit.parameters[parameter] + shift;
    const half = coverage * u(parameter);
    return { value, standard_uncertainty: u(parameter), interval: [value - half, value + half] };
  };
  const onset_s = fixed[ONSET]
    ? { value: fit.parameters[ONSET] + shift_s, standard_uncertainty: null }
    : linear(ONSET, shift_s);
  const correlation = neighbourCorrelation(fit.residuals);
  const { elapsed_s: t } = trace;
  const driven = fit.parameters[DRIFT] * (t[t.length - 1] - fit.parameters[ONSET]);
  return {
    status: 'fitted',
    time_constant_s: estimate(TIME_CONSTANT, tau),
    settled_mW: estimate(SETTLED, settled),
    onset_s,
    relative_drift_per_s: drift ? linear(DRIFT) : null,
    residual_sd_mW: sd,
    dof: fit.dof,
    readings: t.length,
    length_in_time_constants: length,
    residual_correlation: correlation,
    residuals_mW: fit.residuals,
    warnings: [
      // Three times the standard error 1/√n of the correlation of independent residuals.
      ...(correlation > 3 / Math.sqrt(t.length) ? [correlatedWarning] : []),
      ...(heldOnset_s === null && fixed[ONSET] ? [onsetWarning(shift_s)] : []),
      ...(Math.abs(driven) > MOST_DRIFT ? [driftWarning] : []),
    ],
  };
}

/** A source that changes by more during a trace hardly does so in a straight line. */
const MOST_DRIFT = 0.3;

const correlatedWarning: Warning = {
  code: 'residuals-correlated',
  message:
    'Neighbouring residuals go together: the sensor is not of first order, the source wanders, or the display moves in steps. The intervals are too narrow.',
};
const driftWarning: Warning = {
  code: 'drift-large',
  message: 'The source changed by more than 30 %: a straight slow drift is doubtful.',
};
const onsetWarning = (shift_s: number): Warning => ({
  code: 'onset-at-zero',
  message: `The fitted onset went to ${shift_s} s and was held there.`,
});

function neighbourCorrelation(residuals: readonly number[]): number {
  let squares = 0;
  let products = 0;
  for (let i = 0; i < residuals.length; i++) {
    squares += residuals[i] ** 2;
    if (i > 0) products += residuals[i] * residuals[i - 1];
  }
  return squares > 0 ? products / squares : 0;
}
