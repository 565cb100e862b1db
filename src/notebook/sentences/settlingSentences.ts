import { argumentWrong } from '../../error.js';
import { formatEstimate, formatNumber } from '../../findings/formatNumber.js';
import { formatUncertain } from '../../findings/formatUncertain.js';
import { type TraceFit, timeConstants } from '../../findings/settlingFindings.js';
import { type LagDroop, lagDroop } from '../../settle/lagDroop.js';
import { meanDrift } from '../../settle/meanDrift.js';
import type { StepResponse } from '../../settle/stepResponse.js';
import { threePointExtrapolation } from '../../settle/threePointExtrapolation.js';
import type { Trace } from '../../vocabulary.js';

/** Three readings at equal distances in time. */
interface ThreeReadings {
  readonly readings_mW: readonly [number, number, number];
  readonly spacing_s: number;
  readonly last_s: number;
}

/**
 * The readings nearest to one, two and three times this after switch-on; `null` where the trace has none so
 * evenly apart.
 */
function threeReadings({ elapsed_s, reading_mW }: Trace, spacing_s: number): ThreeReadings | null {
  const near = [1, 2, 3].map((times) => {
    const off = elapsed_s.map((time) => Math.abs(time - times * spacing_s));
    return off.indexOf(Math.min(...off));
  });
  const [a = 0, b = 0, c = 0] = near.map((place) => elapsed_s[place]);
  const even = b > a && Math.abs(c - 2 * b + a) <= 0.02 * (b - a);
  const [x, y, z] = near.map((place) => reading_mW[place]);
  return even ? { readings_mW: [x, y, z], spacing_s: b - a, last_s: c } : null;
}

/**
 * Where three readings of a trace go, beside where the whole trace goes.
 *
 * @param options.spacing_s how far apart, from switch-on
 * @param options.step_mW display step of the meter, the least that a reading is uncertain by; `null`: not stated
 * @throws argument-wrong for a spacing that is no number above 0
 */
export function extrapolationSentences(
  { trace, fit }: TraceFit,
  options: { readonly spacing_s: number; readonly step_mW: number | null },
): readonly string[] {
  const { spacing_s, step_mW } = options;
  if (!(spacing_s > 0 && Number.isFinite(spacing_s))) {
    throw argumentWrong('Three readings need some seconds between them.', spacing_s, '6');
  }
  const taken = threeReadings(trace, spacing_s);
  if (taken === null) {
    return [
      `This trace of the ${trace.meter} has no three readings that are ${formatNumber(spacing_s)} s apart, so nothing can be shown with it.`,
    ];
  }
  const finest = finestStep(trace);
  const found = threePointExtrapolation({
    readings_mW: taken.readings_mW,
    spacing_s: taken.spacing_s,
    readingStandardUncertainty_mW: (step_mW ?? finest) / Math.sqrt(12),
  });
  const guess =
    step_mW === null
      ? [
          `The display step of the ${trace.meter} is not stated; the finest one in this trace, ${formatNumber(finest, { digits: 2 })} mW, is taken.`,
        ]
      : [];
  const from = `Three readings of the ${trace.meter}, the last at ${formatNumber(taken.last_s)} s,`;
  const three =
    found.status === 'refused'
      ? `${from} tell nothing. ${found.why}`
      : `${from} go to ${formatEstimate(found.value_mW, ...found.interval_mW, { unit: 'mW' })}` +
        `${found.time_constant_s === null ? '' : `, with a time constant of ${formatNumber(found.time_constant_s, { digits: 3 })} s`}.`;
  const whole =
    fit.status === 'refused'
      ? `The whole trace: refused. ${fit.why}`
      : wholeTrace(fit, taken.last_s);
  return [...guess, three, whole];
}

/** Smallest difference between two readings that differ, mW. */
function finestStep({ reading_mW }: Trace): number {
  const sorted = [...new Set(reading_mW)].sort((a, b) => a - b);
  return Math.min(...sorted.slice(1).map((reading, i) => reading - sorted[i]));
}

function wholeTrace(fit: Extract<StepResponse, { status: 'fitted' }>, last_s: number): string {
  const { settled_mW, time_constant_s, relative_drift_per_s, onset_s } = fit;
  const drift = relative_drift_per_s?.value ?? 0;
  const then = settled_mW.value * (1 + drift * (last_s - onset_s.value));
  return (
    `The whole trace gives a time constant of ${formatNumber(time_constant_s.value, { digits: 3 })} s and a level of ` +
    `${formatNumber(settled_mW.value, { keepZeros: true })} mW at switch-on; with the drift that it shows, a sensor without lag would stand at ` +
    `${formatNumber(then, { keepZeros: true })} mW at ${formatNumber(last_s)} s, the last of the three.`
  );
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
  const [reference, candidate] = timeConstants(fits).map(({ of }) => of);
  return lagDroop({
    relativeDroop_per_s: -drift.value,
    relativeDroopStandardUncertainty_per_s: drift.standardUncertainty,
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
