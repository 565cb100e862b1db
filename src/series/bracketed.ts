import type { Part } from '../statistics/combineIndependent.js';
import type { Run } from '../vocabulary.js';
import type { DriftModel } from './driftModel.js';

export interface BracketedEffect extends Part {
  /** Mean of ln(candidate) − ln(reference interpolated to its moment). */
  readonly effect: number;
}

/**
 * The meter effect by bracketing: every candidate run against the logarithm of the two neighbouring
 * reference runs, interpolated to its moment. Free of linear drift whatever the times; a second road
 * to the factor beside the drift model.
 *
 * Neighbouring brackets share a reference run, so their differences are correlated: the variance is
 * taken of the mean as a weighted sum of runs, Σ w² σ², with the variances of both meters from the
 * drift model, not from the scatter of the differences.
 *
 * @returns `null` when no candidate run stands between two reference runs
 */
export function bracketedEffect(model: DriftModel): BracketedEffect | null {
  const runs = [...model.runs.keys()].sort((a, b) => model.runs[a].time_s - model.runs[b].time_s);
  const weights = new Array<number>(model.runs.length).fill(0);
  let brackets = 0;
  runs.forEach((index, place) => {
    const run = model.runs[index];
    if (run.meter !== 'candidate') return;
    const before = neighbour(model.runs, runs, place, -1);
    const after = neighbour(model.runs, runs, place, 1);
    if (before === null || after === null) return;
    const from = model.runs[before].time_s;
    const to = model.runs[after].time_s;
    const share = to > from ? (run.time_s - from) / (to - from) : 0.5;
    weights[index] += 1;
    weights[before] -= 1 - share;
    weights[after] -= share;
    brackets += 1;
  });
  if (brackets === 0) return null;
  const contrast = weights.map((weight) => weight / brackets);
  const effect = contrast.reduce(
    (sum, weight, i) => sum + weight * Math.log(model.runs[i].reading_mW),
    0,
  );
  return { effect, ...model.fit.uncertaintyOf(contrast) };
}

function neighbour(
  runs: readonly Run[],
  order: readonly number[],
  place: number,
  step: -1 | 1,
): number | null {
  for (let at = place + step; at >= 0 && at < order.length; at += step) {
    if (runs[order[at]].meter === 'reference') return order[at];
  }
  return null;
}
