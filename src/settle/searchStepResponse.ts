/** From a trace to the step response that fits it best. */
import { MeterpairError } from '../error.js';
import { fitOnAll } from './fitOnAll.js';
import { gaussNewton } from './gaussNewton.js';
import { nonlinearLeastSquares } from './nonlinearLeastSquares.js';
import type { NonlinearFit, NonlinearProblem } from './nonlinearProblem.js';
import { startingValues } from './startingValues.js';
import { refused, type StepResponse } from './stepResponse.js';
import { ONSET, stepResponseCurve } from './stepResponseCurve.js';
import type { StepResponseTask } from './stepResponseTask.js';
import { type ThinnedTrace, thinnedTrace } from './thinnedTrace.js';

export interface FoundResponse {
  /** The fit to all readings. */
  readonly fit: NonlinearFit;
  /** The problem and the fit that profiles are taken of: those of the thinned readings of a long trace. */
  readonly problem: NonlinearProblem;
  readonly profiled: NonlinearFit;
  readonly fixed: readonly boolean[];
}

/** Search on a trace thinned where it is long, then a fit to all of it; or why there is none. */
export function searchStepResponse(task: StepResponseTask): FoundResponse | StepResponse {
  const thin = thinnedTrace(task.trace);
  const start = startingValues(thin ?? task.trace, {
    onset: task.heldOnset_s ?? 'fitted',
    drift: task.drift,
  });
  if (start === null) return refused('no-rise', 'No rising step response comes near the readings.');
  const whole = problemOf(task, start);
  try {
    const first = fitted({ ...whole, ...weighted(thin), iterations: 10 });
    return thin === null ? onlyFit(first) : brought(task, thin, whole, first);
  } catch (error) {
    if (!(error instanceof MeterpairError)) throw error;
    return error.code === 'no-convergence'
      ? refused('no-fit', 'No first-order step response settles on these readings.')
      : refused('too-short', 'The trace is too short to tell its time constant from its level.');
  }
}

type Problem = NonlinearProblem & { readonly fixed: readonly boolean[] };

interface Fitted {
  readonly fit: NonlinearFit;
  readonly problem: Problem;
}

function problemOf(
  { trace, heldOnset_s, drift }: StepResponseTask,
  start: readonly number[],
): Problem {
  const { elapsed_s: t, reading_mW: y } = trace;
  const lower = [
    Number.NEGATIVE_INFINITY,
    1e-9 * (t[t.length - 1] - t[0]),
    heldOnset_s === null ? 0 : Number.NEGATIVE_INFINITY,
    -1e9,
  ];
  const fixed = [false, false, heldOnset_s !== null, !drift];
  return { x: t, y, curve: stepResponseCurve, start, lower, fixed, kinked: ONSET };
}

/** The fit, and once more with the onset held where it went to its bound: it carries no uncertainty there. */
function fitted(problem: Problem): Fitted {
  const fit = nonlinearLeastSquares(problem);
  if (problem.fixed[ONSET] || fit.parameters[ONSET] > 0) return { fit, problem };
  const held = { ...problem, fixed: problem.fixed.map((one, j) => one || j === ONSET) };
  return { fit: gaussNewton({ ...held, start: fit.parameters }), problem: held };
}

const onlyFit = ({ fit, problem }: Fitted): FoundResponse => ({
  fit,
  problem,
  profiled: fit,
  fixed: problem.fixed,
});

/** A fit to thinned readings brought to all of them, and the thinned problem once more beside it. */
function brought(
  task: StepResponseTask,
  thin: ThinnedTrace,
  whole: Problem,
  { fit: fewer, problem: { fixed, iterations } }: Fitted,
): FoundResponse {
  const fit = fitOnAll({ ...whole, fixed }, fewer);
  const [, time_constant_s, onset_s] = fit.parameters;
  // Where the onset is known, so is which readings have to stay single.
  const known = thinnedTrace(task.trace, { onset_s, time_constant_s }) ?? thin;
  const problem = { ...whole, ...weighted(known), iterations, fixed };
  const profiled = gaussNewton({ ...problem, start: fit.parameters });
  return { fit, problem, profiled, fixed };
}

/** The problem of thinned readings: each counts as often as there are readings in it. */
function weighted(thin: ThinnedTrace | null) {
  if (thin === null) return {};
  const { elapsed_s, reading_mW, counts } = thin;
  const root = counts.map(Math.sqrt);
  const { value, gradient } = stepResponseCurve;
  return {
    x: [...counts.keys()],
    y: reading_mW.map((reading, i) => root[i] * reading),
    curve: {
      value: (b: readonly number[], i: number) => root[i] * value(b, elapsed_s[i]),
      gradient: (b: readonly number[], i: number) =>
        gradient(b, elapsed_s[i]).map((one) => root[i] * one),
    },
  };
}
