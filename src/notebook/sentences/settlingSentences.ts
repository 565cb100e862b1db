import { argumentWrong } from '../../error.js';
import type { TraceFit } from '../../figures/traceFigure.js';
import { formatInterval, formatNumber } from '../../findings/formatNumber.js';
import { formatUncertain } from '../../findings/formatUncertain.js';
import { combineTimeConstants } from '../../settle/combineTimeConstants.js';
import type { StepResponse } from '../../settle/fitStepResponse.js';
import { type LagDroop, lagDroop } from '../../settle/lagDroop.js';
import { meanDrift } from '../../settle/meanDrift.js';
import type { ThreePointExtrapolation } from '../../settle/threePointExtrapolation.js';
import type { MeterRole, Trace } from '../../vocabulary.js';

/**
 * The readings of a trace at given times.
 *
 * @throws argument-wrong when the trace has no reading at one of the times
 */
export function readingsAt(trace: Trace, times_s: readonly number[]): readonly number[] {
  return times_s.map((time) => {
    const place = trace.elapsed_s.findIndex((elapsed) => Math.abs(elapsed - time) < 1e-6);
    const reading = trace.reading_mW[place];
    if (reading === undefined) {
      throw argumentWrong('The trace has no reading at this time.', `${time} s`);
    }
    return reading;
  });
}

/** Where three readings go, beside where the whole trace goes. */
export function extrapolationSentences(
  found: ThreePointExtrapolation,
  fit: StepResponse,
  last_s: number,
): readonly string[] {
  const three =
    found.status === 'refused'
      ? `Three readings: refused. ${found.why}`
      : `Three readings go to ${formatNumber(found.value_mW, { keepZeros: true })} mW (interval ${formatInterval(...found.interval_mW)} mW)` +
        `${found.time_constant_s === null ? '' : `, with a time constant of ${formatNumber(found.time_constant_s, { digits: 3 })} s`}.`;
  if (fit.status === 'refused') return [three, `The whole trace: refused. ${fit.why}`];
  const { settled_mW, time_constant_s, relative_drift_per_s, onset_s } = fit;
  const drift = relative_drift_per_s?.value ?? 0;
  const then = settled_mW.value * (1 + drift * (last_s - onset_s.value));
  return [
    three,
    `The whole trace gives a time constant of ${formatNumber(time_constant_s.value, { digits: 3 })} s and a level of ` +
      `${formatNumber(settled_mW.value, { keepZeros: true })} mW at switch-on; with the drift that it shows, a sensor without lag would stand at ` +
      `${formatNumber(then, { keepZeros: true })} mW at ${formatNumber(last_s)} s, the last of the three.`,
  ];
}

/**
 * How a source that changes while it is on meets two sensors of different speed: the mean drift over
 * all traces, and the time constants of both meters.
 *
 * @returns `null` when no trace shows a drift
 */
export function lagOf(fits: readonly TraceFit[]): LagDroop | null {
  const drift = meanDrift(fits.map(({ fit }) => fit));
  if (drift === null) return null;
  const reference = constantOf(fits, 'reference');
  const candidate = constantOf(fits, 'candidate');
  return lagDroop({
    relativeDroop_per_s: -drift.value,
    relativeDroopStandardUncertainty_per_s: drift.standard_uncertainty,
    timeConstantReference_s: reference.value_s,
    timeConstantCandidate_s: candidate.value_s,
    timeConstantReferenceStandardUncertainty_s: reference.standard_uncertainty_s ?? 0,
    timeConstantCandidateStandardUncertainty_s: candidate.standard_uncertainty_s ?? 0,
  });
}

/** What lag and drift together do to the ratio of the meters. */
export function lagSentences(lag: LagDroop | null): readonly string[] {
  if (lag === null) return ['No trace shows how the source changes while it is on.'];
  if (lag.relative_bias === null) return [lag.why];
  return [
    `${lag.why} Candidate ÷ reference is off by ` +
      `${formatUncertain(lag.relative_bias, 2 * lag.relative_standard_uncertainty, { as: 'percent' })} (k = 2).`,
    `To take that out, K is multiplied by ${formatNumber(lag.factor_multiplier, { digits: 5 })}.`,
  ];
}

function constantOf(fits: readonly TraceFit[], meter: MeterRole) {
  const own = fits.filter(({ trace }) => trace.meter === meter);
  return combineTimeConstants(own.map(({ fit }) => fit));
}
