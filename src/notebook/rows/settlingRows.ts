import {
  formatInterval,
  formatNumber,
  NO_NUMBER,
  TWO_DIGITS,
} from '../../findings/formatNumber.js';
import type { TraceFit } from '../../findings/settlingFindings.js';
import type { TableRow } from '../tableHtml.js';

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
      'Drift in % per s': drift === null ? NO_NUMBER : formatNumber(100 * drift.value, TWO_DIGITS),
      'Length in τ': formatNumber(fit.length_in_time_constants, { digits: 2 }),
      Remarks: fit.warnings.map((warning) => warning.message).join(' '),
    };
  });
}
