import { extremes } from '../statistics/summary.js';
import { overshootOf } from './detectOvershoot.js';
import { refused, type StepResponse } from './stepResponse.js';
import type { StepResponseTask } from './stepResponseTask.js';

/** Readings that a fit has to have beyond its unknowns. */
const SPARE = 3;

/** Why a trace is not worth a fit, as it shows itself; `null`: it is. */
export function unfitTrace(task: StepResponseTask): StepResponse | null {
  const { elapsed_s: t, reading_mW: y } = task.trace;
  const unknowns = 2 + (task.heldOnset_s === null ? 1 : 0) + (task.drift ? 1 : 0);
  const usable = countAfter(t, task.heldOnset_s ?? 0);
  if (usable < unknowns + SPARE) {
    return refused(
      'too-few-readings',
      `${usable} readings after switch-on do not carry ${unknowns} unknowns; ${unknowns + SPARE} are the least.`,
    );
  }
  if (t[t.length - 1] === t[0]) {
    return refused('too-short', 'All readings of the trace carry the same time.');
  }
  const [lowest, highest] = extremes(y);
  if (!(highest > 0) || highest - Math.min(0, lowest) <= task.resolution_mW) {
    return refused('no-rise', 'The reading does not rise.');
  }
  const { overshoots, why } = overshootOf(task.trace, task.resolution_mW);
  return overshoots ? refused('overshoot', why) : null;
}

function countAfter(t: readonly number[], onset_s: number): number {
  let count = 0;
  for (let i = 0; i < t.length; i++) if (t[i] > onset_s) count++;
  return count;
}
