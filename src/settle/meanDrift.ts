import { meanOfEstimates } from '../statistics/meanOfEstimates.js';
import type { Estimate } from '../statistics/randomEffects.js';
import type { StepResponse } from './stepResponse.js';

/**
 * How fast did the source change while it was on? Mean over the traces that show a drift.
 *
 * @returns fraction per s, negative for a falling source; `null` when no trace shows a drift
 */
export function meanDrift(fits: readonly StepResponse[]): Estimate | null {
  const drifts = fits.flatMap((fit) =>
    fit.status === 'fitted' && fit.relative_drift_per_s !== null
      ? [
          {
            value: fit.relative_drift_per_s.value,
            standardUncertainty: fit.relative_drift_per_s.standard_uncertainty,
          },
        ]
      : [],
  );
  return drifts.length === 0 ? null : meanOfEstimates(drifts);
}
