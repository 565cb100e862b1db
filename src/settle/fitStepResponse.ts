import { argumentWrong, MeterpairError } from '../error.js';
import { formatNumber } from '../findings/formatNumber.js';
import { coverageFactor } from '../statistics/distributions.js';
import { requireConfidence, requireOptions } from '../statistics/options.js';
import { requireShape } from '../statistics/shapes.js';
import { extremes } from '../statistics/summary.js';
import type { Interval, Warning } from '../vocabulary.js';
import { detectOvershoot } from './detectOvershoot.js';
import { fitOnAll } from './fitOnAll.js';
import { gaussNewton } from './gaussNewton.js';
import { nonlinearLeastSquares } from './nonlinearLeastSquares.js';
import type { NonlinearFit } from './nonlinearProblem.js';
import { profileInterval } from './profileInterval.js';
import { requireNotNegative, requireTrace, type TraceReadings } from './readTrace.js';
import { startingValues } from './startingValues.js';
import { DRIFT, ONSET, SETTLED, stepResponseCurve, TIME_CONSTANT } from './stepResponseCurve.js';
import { type ThinnedTrace, thinnedTrace } from './thinnedTrace.js';

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

export interface StepResponseOptions {
  /** When the source came on, in the trace's time (default 0), or `fitted` (from 0 up). */
  readonly onset_s?: number | 'fitted';
  /** Also fit a slow straight change of the source (default false). */
  readonly drift?: boolean;
  /** Step of the display: floor of the residual standard deviation (default 0). */
  readonly resolution_mW?: number;
  /** Shortest trace that is believed, in time constants (default 1.5). */
  readonly leastTimeConstants?: number;
  readonly confidence?: number;
}

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
  requireOptions(options, {
    onset_s: true,
    drift: true,
    resolution_mW: true,
    leastTimeConstants: true,
    confidence: true,
  });
  requireTrace(trace);
  requireShape(options.drift, 'Whether there is a drift', { maybe: 'yes-or-no' });
  const confidence = options.confidence ?? 0.95;
  const resolution = options.resolution_mW ?? 0;
  const least = options.leastTimeConstants ?? 1.5;
  const drift = options.drift ?? false;
  const onsetFitted = options.onset_s === 'fitted';
  requireConfidence(confidence);
  requireNotNegative(resolution, 'A resolution');
  requireNotNegative(least, 'The least length');
  const givenOnset = options.onset_s === 'fitted' ? 0 : (options.onset_s ?? 0);
  if (!Number.isFinite(givenOnset)) throw argumentWrong('The onset must be finite.', givenOnset);

  const shift = onsetFitted ? farFromZero(trace.elapsed_s) : 0;
  const t = shift === 0 ? trace.elapsed_s : trace.elapsed_s.map((value) => value - shift);
  const y = trace.reading_mW;
  const parameters = 2 + (onsetFitted ? 1 : 0) + (drift ? 1 : 0);
  let usable = 0;
  for (const value of t) if (value > givenOnset) usable++;
  if (usable < parameters + 3) {
    return refused(
      'too-few-readings',
      `${usable} readings after switch-on do not carry ${parameters} unknowns; ${parameters + 3} are the least.`,
    );
  }
  if (t[t.length - 1] === t[0]) {
    return refused('too-short', 'All readings of the trace carry the same time.');
  }
  const [lowest, highest] = extremes(y);
  if (!(highest > 0) || highest - Math.min(0, lowest) <= resolution) {
    return refused('no-rise', 'The reading does not rise.');
  }
  const overshoot = detectOvershoot(trace, { resolution_mW: resolution });
  if (overshoot.overshoots) return refused('overshoot', overshoot.why);

  const all = { elapsed_s: t, reading_mW: y };
  const thin = thinnedTrace(all);
  const start = startingValues(thin ?? all, { onset: onsetFitted ? 'fitted' : givenOnset, drift });
  if (start === null) return refused('no-rise', 'No rising step response comes near the readings.');
  const fixed = [false, false, !onsetFitted, !drift];
  const lower = [Number.NEGATIVE_INFINITY, 1e-9 * (t[t.length - 1] - t[0]), 0, -1e9];
  if (!onsetFitted) lower[ONSET] = Number.NEGATIVE_INFINITY;
  const whole = { x: t, y, curve: stepResponseCurve, start, lower, fixed, kinked: ONSET };
  let problem = { ...whole, ...weighted(thin), iterations: 10 };
  let fit: NonlinearFit;
  let fewer: NonlinearFit;
  try {
    fit = nonlinearLeastSquares(problem);
    // An onset at its bound carries no uncertainty of its own.
    if (onsetFitted && fit.parameters[ONSET] <= 0) {
      fixed[ONSET] = true;
      fit = gaussNewton({ ...problem, start: fit.parameters, fixed });
    }
    fewer = fit;
    if (thin !== null) {
      fit = fitOnAll({ ...whole, fixed }, fewer);
      const [, time_constant_s, onset_s] = fit.parameters;
      // Where the onset is known, so is which readings have to stay single.
      problem = {
        ...problem,
        ...weighted(thinnedTrace(all, { onset_s, time_constant_s }) ?? thin),
      };
      fewer = gaussNewton({ ...problem, start: fit.parameters, fixed });
    }
  } catch (error) {
    if (!(error instanceof MeterpairError)) throw error;
    return error.code === 'no-convergence'
      ? refused('no-fit', 'No first-order step response settles on these readings.')
      : refused('too-short', 'The trace is too short to tell its time constant from its level.');
  }
  const [settled, tau, onset, relativeDrift] = fit.parameters;
  const residualSd = Math.sqrt(
    Math.max(fit.residualSumOfSquares / fit.dof, resolution ** 2 / 12, 1e-30 * highest ** 2),
  );
  if (!(settled > 0)) return refused('no-rise', 'The reading does not rise to a level above 0.');
  const coverage = coverageFactor(confidence, fit.dof);
  // Ends found on thinned readings move with the estimate of all.
  const profile = (parameter: number) => {
    const [low, high] = profileInterval({ ...problem, start: fewer.parameters, fixed }, fewer, {
      parameter,
      sd: residualSd,
      coverage,
    });
    const moved = fit.parameters[parameter] - fewer.parameters[parameter];
    return [low === null ? null : low + moved, high === null ? null : high + moved] as const;
  };
  const tauBounds = profile(TIME_CONSTANT);
  const length = (t[t.length - 1] - onset) / tau;
  if (length < least || tauBounds[1] === null) {
    const at = length < 0.1 ? 'less than 0.1' : formatNumber(length, { places: 1 });
    return refused(
      'too-short',
      tauBounds[1] === null
        ? 'The trace does not bound the time constant from above: the settled value may lie anywhere higher. Record a longer trace.'
        : `The trace is ${at} time constants long; below ${least} it is too short to tell. Record a longer one.`,
      tauBounds,
    );
  }
  if (tauBounds[0] === null) {
    return refused(
      'rise-not-sampled',
      'The rise was over before it was sampled: the time constant is below the bound. Read more often.',
      tauBounds,
    );
  }
  const settledBounds = profile(SETTLED);
  if (settledBounds[0] === null || settledBounds[1] === null) {
    return refused('too-short', 'The trace does not bound the settled value.', tauBounds);
  }
  const u = (parameter: number) =>
    residualSd * Math.sqrt(Math.max(0, fit.unscaledCovariance[parameter][parameter]));
  const linear = (parameter: number): TraceEstimate => {
    const value = fit.parameters[parameter] + (parameter === ONSET ? shift : 0);
    return {
      value,
      standard_uncertainty: u(parameter),
      interval: [value - coverage * u(parameter), value + coverage * u(parameter)],
    };
  };
  const correlation = neighbourCorrelation(fit.residuals);
  return {
    status: 'fitted',
    time_constant_s: {
      value: tau,
      standard_uncertainty: u(TIME_CONSTANT),
      interval: [tauBounds[0], tauBounds[1]],
    },
    settled_mW: {
      value: settled,
      standard_uncertainty: u(SETTLED),
      interval: [settledBounds[0], settledBounds[1]],
    },
    onset_s: fixed[ONSET] ? { value: onset + shift, standard_uncertainty: null } : linear(ONSET),
    relative_drift_per_s: drift ? linear(DRIFT) : null,
    residual_sd_mW: residualSd,
    dof: fit.dof,
    readings: y.length,
    length_in_time_constants: length,
    residual_correlation: correlation,
    residuals_mW: fit.residuals,
    warnings: [
      // Three times the standard error 1/√n of the correlation of independent residuals.
      ...(correlation > 3 / Math.sqrt(y.length)
        ? [
            {
              code: 'residuals-correlated',
              message:
                'Neighbouring residuals go together: the sensor is not of first order, the source wanders, or the display moves in steps. The intervals are too narrow.',
            },
          ]
        : []),
      ...(onsetFitted && fixed[ONSET]
        ? [
            {
              code: 'onset-at-zero',
              message: `The fitted onset went to ${shift} s and was held there.`,
            },
          ]
        : []),
      ...(relativeDrift !== 0 && Math.abs(relativeDrift * (t[t.length - 1] - onset)) > 0.3
        ? [
            {
              code: 'drift-large',
              message: 'The source changed by more than 30 %: a straight slow drift is doubtful.',
            },
          ]
        : []),
    ],
  };
}

/** Times so many times their span away from zero are no times since switch-on, such as those of a clock. */
const FAR = 100;

/**
 * By how much times are moved before the fit, so that no digits are lost in them: one span before the
 * first reading becomes zero where they lie far from it.
 */
function farFromZero(t: readonly number[]): number {
  const span = t[t.length - 1] - t[0];
  return t[0] > FAR * span ? t[0] - span : 0;
}

/** The problem of thinned readings: each counts as often as there are readings in it. */
function weighted(thin: ThinnedTrace | null) {
  if (thin === null) return {};
  const { elapsed_s, reading_mW, counts } = thin;
  const root = counts.map(Math.sqrt);
  const { value, gradient } = stepResponseCurve;
  return {
    x: [...counts.keys()],
    y: reading_mW.map((reading, i) => root[i] * reading),
    curve: {
      value: (b: readonly number[], i: number) => root[i] * value(b, elapsed_s[i]),
      gradient: (b: readonly number[], i: number) =>
        gradient(b, elapsed_s[i]).map((one) => root[i] * one),
    },
  };
}

function refused(
  reason: StepResponseRefusal,
  why: string,
  bounds: readonly [number | null, number | null] = [null, null],
): StepResponse {
  return { status: 'refused', reason, why, time_constant_bounds_s: bounds };
}

function neighbourCorrelation(residuals: readonly number[]): number {
  let squares = 0;
  let products = 0;
  for (let i = 0; i < residuals.length; i++) {
    squares += residuals[i] ** 2;
    if (i > 0) products += residuals[i] * residuals[i - 1];
  }
  return squares > 0 ? products / squares : 0;
}
