/** How sure a fitted step response is, and where it is not sure enough. */
import { formatNumber } from '../findings/formatNumber.js';
import { coverageFactor } from '../statistics/distributions.js';
import { extremes } from '../statistics/summary.js';
import type { Interval } from '../vocabulary.js';
import { profileInterval } from './profileInterval.js';
import type { FoundResponse } from './searchStepResponse.js';
import { refused, type StepResponse } from './stepResponse.js';
import { ONSET, SETTLED, TIME_CONSTANT } from './stepResponseCurve.js';
import type { StepResponseTask } from './stepResponseTask.js';

export interface Bounds {
  readonly tau: Interval;
  readonly settled: Interval;
  /** Of a single reading about the curve. */
  readonly sd: number;
  readonly coverage: number;
  /** From the onset to the last reading, in time constants. */
  readonly length: number;
}

/** Profile intervals of time constant and level, or why the trace does not bound them. */
export function stepResponseBounds(
  task: StepResponseTask,
  found: FoundResponse,
): Bounds | StepResponse {
  const { fit } = found;
  if (!(fit.parameters[SETTLED] > 0)) {
    return refused('no-rise', 'The reading does not rise to a level above 0.');
  }
  const scatter = {
    sd: scatterOf(task, found),
    coverage: coverageFactor(task.confidence, fit.dof),
  };
  const tau = profiled(found, TIME_CONSTANT, scatter);
  const { elapsed_s: t } = task.trace;
  const length = (t[t.length - 1] - fit.parameters[ONSET]) / fit.parameters[TIME_CONSTANT];
  if (tau[1] === null || length < task.leastTimeConstants) {
    return refused('too-short', shortWords(tau[1], length, task.leastTimeConstants), tau);
  }
  if (tau[0] === null) {
    return refused(
      'rise-not-sampled',
      'The rise was over before it was sampled: the time constant is below the bound. Read more often.',
      tau,
    );
  }
  const settled = profiled(found, SETTLED, scatter);
  if (settled[0] === null || settled[1] === null) {
    return refused('too-short', 'The trace does not bound the settled value.', tau);
  }
  return { tau: [tau[0], tau[1]], settled: [settled[0], settled[1]], length, ...scatter };
}

/** Not below what the display's steps scatter by themselves, nor zero. */
function scatterOf({ trace, resolution_mW }: StepResponseTask, { fit }: FoundResponse): number {
  const [, highest] = extremes(trace.reading_mW);
  return Math.sqrt(
    Math.max(fit.residualSumOfSquares / fit.dof, resolution_mW ** 2 / 12, 1e-30 * highest ** 2),
  );
}

/** Ends found on thinned readings move with the estimate of all. */
function profiled(
  { fit, problem, profiled: fewer }: FoundResponse,
  parameter: number,
  scatter: Pick<Bounds, 'sd' | 'coverage'>,
): readonly [low: number | null, high: number | null] {
  const [low, high] = profileInterval({ ...problem, start: fewer.parameters }, fewer, {
    parameter,
    ...scatter,
  });
  const moved = fit.parameters[parameter] - fewer.parameters[parameter];
  return [low === null ? null : low + moved, high === null ? null : high + moved];
}

function shortWords(highestTau: number | null, length: number, least: number): string {
  if (highestTau === null) {
    return 'The trace does not bound the time constant from above: the settled value may lie anywhere higher. Record a longer trace.';
  }
  // Down, or one just short of the least would be said to have it.
  const at =
    length < 0.1 ? 'less than 0.1' : formatNumber(Math.floor(10 * length) / 10, { places: 1 });
  return `The trace is ${at} time constants long; below ${least} it is too short to tell. Record a longer one.`;
}
