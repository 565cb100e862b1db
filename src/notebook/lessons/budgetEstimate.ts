import { coverageFactor } from '../../statistics/distributions.js';
import { effectiveDof } from '../../statistics/effectiveDof.js';
import { mean, standardDeviation } from '../../statistics/summary.js';
import { KNOWN_EXACTLY } from '../../vocabulary.js';
import type { Estimate } from './lapEstimate.js';

/**
 * K by the plain mean of laps, with an interval from the scatter of the laps *and* what stays the
 * same in all of them.
 *
 * @param logs of the laps, two or more
 * @param staying relative standard uncertainties that no number of laps reduces, known exactly
 * @throws too-few-values below two laps
 * @see JCGM 100:2008, 5.1.2 and G.4
 */
export function budgetEstimate(
  logs: readonly number[],
  staying: readonly number[],
  options: { readonly confidence?: number } = {},
): Estimate {
  const laps = logs.length;
  const parts = [
    { standard_uncertainty: standardDeviation(logs) / Math.sqrt(laps), dof: laps - 1 },
    ...staying.map((u) => ({ standard_uncertainty: u, dof: KNOWN_EXACTLY })),
  ];
  const u = Math.hypot(...parts.map((part) => part.standard_uncertainty));
  const half = coverageFactor(options.confidence ?? 0.95, effectiveDof(parts)) * u;
  const centre = mean(logs);
  return {
    value: Math.exp(centre),
    low: Math.exp(centre - half),
    high: Math.exp(centre + half),
  };
}
