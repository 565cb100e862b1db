import type { StepResponse } from './fitStepResponse.js';

/**
 * How fast did the source change while it was on? Mean over the traces that show a drift.
 *
 * @returns fraction per s, negative for a falling source, with the standard uncertainty from the
 *   fits' own (what differs from trace to trace is not in it); `null` when no trace shows a drift
 * Source: uncertainty of a mean, JCGM 100:2008, 5.1.2.
 */
export function meanDrift(
  fits: readonly StepResponse[],
): { readonly value: number; readonly standard_uncertainty: number } | null {
  const drifts = fits.flatMap((fit) =>
    fit.status === 'fitted' && fit.relative_drift_per_s !== null ? [fit.relative_drift_per_s] : [],
  );
  if (drifts.length === 0) return null;
  return {
    value: drifts.reduce((sum, drift) => sum + drift.value, 0) / drifts.length,
    standard_uncertainty:
      Math.hypot(...drifts.map((drift) => drift.standard_uncertainty)) / drifts.length,
  };
}
