/** What a reading is of what the source gives at that moment, once the sensor has followed it. */

import { laggedResponse } from '../settle/laggedResponse.js';
import { meanDrift } from '../settle/meanDrift.js';
import { missingFraction } from '../settle/missingFraction.js';
import { meanOfEstimates } from '../statistics/meanOfEstimates.js';
import type { Estimate } from '../statistics/randomEffects.js';
import type { MeterRole, Study } from '../vocabulary.js';
import type { FittedTrace, TimeConstant } from './timeConstants.js';
import { runOf } from './traces.js';

/** Reading ÷ power of one meter, and how well that is known (relative standard uncertainty). */
export type Gain = Estimate;
/** The same as traces show it. */
export type TracedGain = Gain & { readonly dof: number };
export type TracedGains = Readonly<Record<MeterRole, TracedGain | null>>;

/** A reading time is kept to ± 1 s by hand and eye (common practice, no source). */
const TIMING_S = 1;

/**
 * Reading over power at the reading time, for a sensor of first order on a source that falls in a
 * straight line. Its uncertainty: time constant and reading time, in the part that is still missing.
 */
export function gainAt(
  read_at_s: number,
  { value_s: tau, standard_uncertainty_s: u }: Omit<TimeConstant, 'dof'>,
  fall_per_s: number,
): Gain {
  const missing = missingFraction(read_at_s, tau);
  const byTau = ((missing * read_at_s) / tau ** 2) * u;
  const byTime = (missing / tau) * (TIMING_S / Math.sqrt(3));
  const shown = laggedResponse({ time_s: read_at_s, time_constant_s: tau, fall_per_s });
  return {
    value: shown / (1 - fall_per_s * read_at_s),
    standardUncertainty: Math.hypot(byTau, byTime) / (1 - missing),
  };
}

/**
 * Where nobody wrote down the reading time: readings of runs with a trace over the power at switch-on
 * that their traces tell. Geometric mean with s/√n, or what the fits leave open where that is more;
 * `null` without a trace that tells.
 */
export function gainByTraces(
  study: Study,
  meter: MeterRole,
  fits: readonly FittedTrace[],
): TracedGain | null {
  const logs = fits.flatMap(({ trace, fit }) => {
    const run = runOf(study, trace);
    if (trace.meter !== meter || fit.status !== 'fitted' || run === undefined) return [];
    if (!(run.reading_mW > 0)) return [];
    const { value, standard_uncertainty: u } = fit.settled_mW;
    return [
      {
        value: Math.log(run.reading_mW / value),
        standardUncertainty: Math.hypot(u, fit.residual_sd_mW) / value,
        dof: fit.dof,
      },
    ];
  });
  if (logs.length === 0) return null;
  const { value, standardUncertainty, scatters } = meanOfEstimates(logs);
  const dof = scatters ? logs.length - 1 : logs.reduce((sum, one) => sum + one.dof, 0);
  return { value: Math.exp(value), standardUncertainty, dof };
}

/** Mean fall of a source while it is on, per s of its power at switch-on; `null`: no trace shows it. */
export function fallOf(fits: readonly FittedTrace[]): Estimate | null {
  const drift = meanDrift(fits.map(({ fit }) => fit));
  return drift === null ? null : { ...drift, value: -drift.value };
}
