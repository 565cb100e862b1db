import type { TraceFit } from '../../figures/traceFigure.js';
import {
  formatDegreesOfFreedom,
  formatInterval,
  formatNumber,
  formatRelative,
  NO_NUMBER,
} from '../../findings/formatNumber.js';
import { formatUncertain } from '../../findings/formatUncertain.js';
import { combineTimeConstants } from '../../settle/combineTimeConstants.js';
import { missingFraction, timeToSettle } from '../../settle/missingFraction.js';
import { coverageFactor } from '../../statistics/distributions.js';
import type { MeterRole } from '../../vocabulary.js';
import type { TableRow } from '../tableHtml.js';

const METERS: readonly MeterRole[] = ['reference', 'candidate'];

/** The step response of each trace, or why it has none. */
export function traceFitRows(fits: readonly TraceFit[]): readonly TableRow[] {
  return fits.map(({ trace, fit }) => {
    const head = { Series: trace.series, Run: trace.run, Meter: trace.meter };
    if (fit.status === 'refused') {
      return {
        ...head,
        'τ in s': NO_NUMBER,
        'Interval of τ in s': formatInterval(...fit.time_constant_bounds_s),
        'Level in mW': NO_NUMBER,
        'Interval of the level in mW': NO_NUMBER,
        'Drift in % per s': NO_NUMBER,
        'Length in τ': NO_NUMBER,
        Remarks: `not used: ${fit.why}`,
      };
    }
    const drift = fit.relative_drift_per_s;
    return {
      ...head,
      'τ in s': formatNumber(fit.time_constant_s.value, { keepZeros: true }),
      'Interval of τ in s': formatInterval(...fit.time_constant_s.interval),
      'Level in mW': formatNumber(fit.settled_mW.value, { keepZeros: true }),
      'Interval of the level in mW': formatInterval(...fit.settled_mW.interval),
      'Drift in % per s':
        drift === null
          ? NO_NUMBER
          : formatNumber(100 * drift.value, { digits: 2, keepZeros: true }),
      'Length in τ': formatNumber(fit.length_in_time_constants, { digits: 2 }),
      Remarks: fit.warnings.map((warning) => warning.message).join(' '),
    };
  });
}

/** One time constant a meter, from all its traces. */
export function timeConstantRows(
  fits: readonly TraceFit[],
  options: { readonly confidence: number },
): readonly TableRow[] {
  return METERS.map((meter) => {
    const { value_s, standard_uncertainty_s: u, dof, traces, why } = combined(fits, meter);
    const k = dof === null ? null : coverageFactor(options.confidence, dof);
    return {
      Meter: meter,
      Traces: traces,
      'τ in s': formatUncertain(value_s, u === null || k === null ? null : k * u),
      k: formatNumber(k, { digits: 3 }),
      'Degrees of freedom': formatDegreesOfFreedom(dof),
      Remarks: why,
    };
  });
}

/**
 * What a reading still lacks when it is taken, and how long to wait instead.
 *
 * @param options.read_at_s time of the reading after switch-on; `null`: not stated
 * @param options.may_lack fraction that may be missing after the wait, such as a hundredth
 */
export function waitingRows(
  fits: readonly TraceFit[],
  options: { readonly read_at_s: number | null; readonly may_lack: number },
): readonly TableRow[] {
  const { read_at_s, may_lack } = options;
  const missing = read_at_s === null ? 'Missing' : `Missing at ${formatNumber(read_at_s)} s, in %`;
  return METERS.map((meter) => {
    const tau = combined(fits, meter).value_s;
    return {
      Meter: meter,
      'τ in s': formatNumber(tau, { digits: 3, keepZeros: true }),
      [missing]:
        tau === null || read_at_s === null
          ? NO_NUMBER
          : formatRelative(missingFraction(read_at_s, tau)),
      [`Wait until ${formatRelative(may_lack)} % is missing, in s`]:
        tau === null ? NO_NUMBER : Math.ceil(timeToSettle(may_lack, tau)),
    };
  });
}

function combined(fits: readonly TraceFit[], meter: MeterRole) {
  const own = fits.filter(({ trace }) => trace.meter === meter);
  return combineTimeConstants(own.map(({ fit }) => fit));
}
