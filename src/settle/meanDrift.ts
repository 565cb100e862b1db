import { mean, standardDeviation } from '../statistics/summary.js';
import type { StepResponse } from './stepResponse.js';

/**
 * How fast did the source change while it was on? Mean over the traces that show a drift.
 *
 * @returns fraction per s, negative for a falling source, with the standard uncertainty from the
 *   fits' own or from what differs from trace to trace (s/√m), whichever is larger; `null` when no
 *   trace shows a drift
 * Source: uncertainty of a mean, JCGM 100:2008, 4.2 and 5.1.2.
 */
export function meanDrift(
  fits: readonly StepResponse[],
): { readonly value: number; readonly standard_uncertainty: number } | null {
  const drifts = fits.flatMap((fit) =>
    fit.status === 'fitted' && fit.relative_drift_per_s !== null ? [fit.relative_drift_per_s] : [],
  );
  if (drifts.length === 0) return null;
  const values = drifts.map((drift) => drift.value);
  const own = Math.hypot(...drifts.map((drift) => drift.standard_uncertainty)) / drifts.length;
  const between = drifts.length > 1 ? standardDeviation(values) / Math.sqrt(drifts.length) : 0;
  return { value: mean(values), standard_uncertainty: Math.max(own, between) };
}
