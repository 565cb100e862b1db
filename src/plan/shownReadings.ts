import type { Random } from '../statistics/random.js';
import {
  lastingRounding,
  phaseSpread,
  scatterBeforeRounding,
} from '../statistics/roundedDisplay.js';
import { mean } from '../statistics/summary.js';

/** What the readings of one meter in one series show, all relative. */
export interface ShownReadings {
  /** Variance of a reading, as it is estimated. */
  readonly variance: number;
  /** Error of their mean, by scatter and rounding. */
  readonly error: number;
  /** What the step leaves in the factor, as the analysis takes it (`seriesFactor`). */
  readonly rounding: number;
}

/**
 * How the power of the source moves from run to run, relative: it carries the readings of a coarse display
 * over the edge between two numbers (common practice, no source).
 */
export const DRIFT_PER_RUN = -0.001;

/** Below this the part of the rounding that stands still does not count, in steps. */
const STANDS_STILL = 1e-3;

/** Whether a display may show one or two numbers only: its rounding then is no noise that averages out. */
export const standsStill = (sd: number, step: number): boolean =>
  lastingRounding(sd / step) > STANDS_STILL;

/**
 * Readings of a display whose step is no smaller than their scatter, drawn one by one: how much of the
 * scatter it shows depends on where the power lies within a step. In the middle of one nearly nothing, at the
 * edge between two numbers half a step, and no average of both is what any comparison sees.
 *
 * @param levels where the power lies at each reading, in steps; `sd` of a reading before rounding and `step`,
 *   relative
 */
export function shownReadings(
  { levels, sd, step }: { levels: readonly number[]; sd: number; step: number },
  random: Random,
): ShownReadings {
  const n = levels.length;
  const shown = levels.map((level) => Math.round(level + (sd / step) * random.normal()));
  let error = 0;
  for (let i = 0; i < n; i++) error += (shown[i] - levels[i]) / n;
  let variance = 0;
  for (let i = 0; i < n; i++) variance += (shown[i] - levels[i] - error) ** 2 / (n - 1);
  const [low, high] = [Math.min(...shown), Math.max(...shown)];
  // Two neighbouring numbers and nothing else: the truth may lie at the edge between them.
  const edge = high - low === 1 ? Math.abs(mean(shown) - (low + high) / 2) : 0;
  const lasting = lastingRounding(
    scatterBeforeRounding(variance),
    phaseSpread(
      levels,
      levels.map(() => 1),
    ),
  );
  return {
    variance: variance * step ** 2,
    error: error * step,
    rounding: Math.max(lasting, edge / Math.sqrt(3)) * step,
  };
}
