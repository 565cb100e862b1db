import { formatNumber } from '../../findings/formatNumber.js';
import { simulateSeries } from '../../simulate/bench.js';
import { seededRandom } from '../../statistics/random.js';
import { mean, standardDeviation } from '../../statistics/summary.js';
import type { TableRow } from '../tableHtml.js';
import { told } from './told.js';

export interface FrozenDisplay {
  /** What the candidate would show with an endlessly fine display, mW. */
  readonly level_mW: number;
  /** Step of its display, mW. */
  readonly step_mW: number;
  /** Scatter of a reading before the display rounds it, in steps. */
  readonly scatter_steps: number;
  readonly readings: number;
  readonly seed: number;
}

/**
 * Readings of a coarse display.
 *
 * @throws argument-wrong as `simulateSeries`
 */
export function displayReadings(plan: FrozenDisplay): readonly number[] {
  const { level_mW, step_mW, scatter_steps, readings } = plan;
  const bench = {
    laps: readings,
    level_mW,
    factor: 1,
    noise: { candidate: (scatter_steps * step_mW) / level_mW },
    resolution_mW: { candidate: step_mW },
  };
  return simulateSeries(bench, seededRandom(plan.seed))
    .series.runs.filter((run) => run.meter === 'candidate')
    .map((run) => run.reading_mW);
}

/** What the mean of many readings keeps of the display's step, for displays more or less restless. */
export function frozenRows(
  plan: Omit<FrozenDisplay, 'scatter_steps'>,
  scatters: readonly number[],
): readonly TableRow[] {
  return scatters.map((scatter_steps) => {
    const shown = displayReadings({ ...plan, scatter_steps });
    // A quiet display shows one number: its mean is known without any doubt, and wrong.
    const error = standardDeviation(shown) / Math.sqrt(shown.length);
    const off = mean(shown) - plan.level_mW;
    return {
      'Scatter in steps': scatter_steps,
      'Different numbers shown': new Set(shown).size,
      'Mean in mW': told(mean(shown), error),
      'Off by mW': error === 0 ? formatNumber(off, { digits: 3 }) : told(off, error),
    };
  });
}
