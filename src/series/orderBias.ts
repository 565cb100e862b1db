import type { Part } from '../statistics/combineIndependent.js';
import { extremes, mean } from '../statistics/summary.js';
import type { LapPair } from '../vocabulary.js';
import type { DriftModel } from './driftModel.js';

/**
 * Bias that the plain mean of lap differences carries because of the order of the runs: the mean
 * over the laps of what the source drifted between the reference run and the candidate run. With
 * the reference always first and a linear drift it is one step of drift, however many laps there
 * are. Computed from the recorded times of the laps that remain, never from the planned order.
 *
 * @returns a fraction of the reading (candidate over reference); `null` without a complete lap
 */
export function orderBias(model: DriftModel, laps: readonly LapPair[]): number | null {
  if (laps.length === 0) return null;
  const steps = laps.map(
    (lap) => model.driftAt(lap.candidate.time_s) - model.driftAt(lap.reference.time_s),
  );
  return Math.expm1(mean(steps));
}

/** Mean drift per run over the series, with its uncertainty, as a fraction of the reading. */
export function driftPerRun(model: DriftModel): Part & { readonly value: number } {
  const [first, last] = extremes(model.runs.map((run) => run.run));
  const steps = last - first;
  const total = model.driftBetween(...extremes(model.runs.map((run) => run.time_s)));
  return {
    value: total.value / steps,
    standardUncertainty: total.standardUncertainty / steps,
    dof: total.dof,
  };
}
