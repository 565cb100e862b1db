import { failure } from '../error.js';
import { leastSquares } from '../statistics/leastSquares.js';
import { inner, takeOut } from '../statistics/orthonormal.js';
import type { NonlinearFit, NonlinearProblem } from './nonlinearProblem.js';

/** Where the descent ended. */
export interface Descent {
  readonly parameters: readonly number[];
  readonly residuals: readonly number[];
  readonly residualSumOfSquares: number;
}

/**
 * Gauss–Newton steps with the covariance at their end. For a start close to the answer.
 *
 * @throws too-few-values when the readings cannot tell the parameters apart, no-convergence
 */
export function gaussNewton(problem: NonlinearProblem): NonlinearFit {
  const free = freeParameters(problem);
  const end = polished(problem, descend(problem), free);
  const b = end.parameters;
  const covariance = b.map(() => b.map(() => 0));
  if (free.length > 0) {
    const { columns, unit } = scaledJacobian(problem, b, free);
    const rows = problem.x.map((_, i) => columns.map((column) => column[i]));
    const fit = leastSquares(rows, end.residuals);
    free.forEach((j, a) => {
      free.forEach((k, c) => {
        covariance[j][k] = fit.unscaledCovariance[a][c] / (unit[a] * unit[c]);
      });
    });
  }
  return { ...end, unscaledCovariance: covariance, dof: problem.y.length - free.length };
}

/**
 * Gauss–Newton steps, each halved until it improves the fit, until none does, or until a step
 * promises to gain no more than the fraction `enough` of the residual sum of squares.
 *
 * @throws too-few-values, no-convergence
 */
export function descend(problem: NonlinearProblem, enough = 1e-24): Descent {
  const { x, y, curve } = problem;
  const lower = problem.lower ?? problem.start.map(() => Number.NEGATIVE_INFINITY);
  const free = freeParameters(problem);
  const rest = (b: readonly number[]) => y.map((value, i) => value - curve.value(b, x[i]));
  let b: readonly number[] = problem.start.map((value, j) => Math.max(value, lower[j]));
  let residuals: readonly number[] = rest(b);
  let sum = squares(residuals);
  for (let round = 0; round < 200; round++) {
    const { step, size } = newtonStep(problem, b, residuals, free);
    if (size <= enough * sum) return { parameters: b, residuals, residualSumOfSquares: sum };
    let improved = false;
    // A gain at the rounding level of the sum is tried once and not chased.
    const smallest = size > 1e-14 * sum ? 1e-10 : 0.4;
    for (let factor = 1; factor > smallest && !improved; factor /= 2) {
      const next = b.map((value, j) => Math.max(lower[j], value + factor * step[j]));
      const nextResiduals = rest(next);
      const nextSum = squares(nextResiduals);
      if (nextSum < sum) {
        b = next;
        residuals = nextResiduals;
        sum = nextSum;
        improved = true;
      }
    }
    // `size` is what the step promises to gain; rounding ends the rest.
    if (improved) continue;
    const end = { parameters: b, residuals, residualSumOfSquares: sum };
    if (size <= Math.max(1e-9 * sum, 1e-24 * squares(y))) return end;
    const inside = free.filter((j) => b[j] > lower[j]);
    if (inside.length === 0) return end;
    if (inside.length < free.length) {
      // Steps that end on a bound move the others too far: these are fitted with it held.
      const fixed = b.map((_, j) => !inside.includes(j));
      const held = descend({ ...problem, start: b, fixed }, enough);
      if (!(held.residualSumOfSquares < (1 - 1e-12) * sum)) return held;
      ({ parameters: b, residuals, residualSumOfSquares: sum } = held);
      continue;
    }
    const { kinked, ...smooth } = problem;
    if (kinked === undefined || !free.includes(kinked)) break;
    // On a kink no common step helps: the others are fitted with this one held.
    const fixed = b.map((_, j) => j === kinked || !free.includes(j));
    return descend({ ...smooth, start: b, fixed }, enough);
  }
  throw failure('no-convergence', 'The fit of the curve does not settle.');
}

/**
 * Full steps from where rounding hides what the sum of squares gains. It is flat at its least value,
 * so half of the digits of the parameters are still open there; what a step promises to gain is not
 * flat, and shows the way as long as it shrinks.
 */
function polished(problem: NonlinearProblem, end: Descent, free: readonly number[]): Descent {
  const { x, y, curve, lower } = problem;
  let best = end;
  let { step, size } = newtonStep(problem, end.parameters, end.residuals, free);
  for (let round = 0; round < 200 && size > 0; round++) {
    const parameters = best.parameters.map((value, j) =>
      Math.max(lower?.[j] ?? Number.NEGATIVE_INFINITY, value + step[j]),
    );
    const residuals = y.map((value, i) => value - curve.value(parameters, x[i]));
    const residualSumOfSquares = squares(residuals);
    if (!(residualSumOfSquares <= end.residualSumOfSquares * (1 + 1e-12))) break;
    const next = newtonStep(problem, parameters, residuals, free);
    if (!(next.size < size)) break;
    best = { parameters, residuals, residualSumOfSquares };
    ({ step, size } = next);
  }
  return best;
}

const squares = (values: readonly number[]) => values.reduce((sum, value) => sum + value ** 2, 0);

const freeParameters = (problem: NonlinearProblem) =>
  problem.start.map((_, j) => j).filter((j) => !(problem.fixed?.[j] ?? false));

function scaledJacobian(problem: NonlinearProblem, b: readonly number[], free: readonly number[]) {
  const { x, curve } = problem;
  const columns = free.map(() => new Float64Array(x.length));
  for (let i = 0; i < x.length; i++) {
    const gradient = curve.gradient(b, x[i]);
    for (let a = 0; a < free.length; a++) columns[a][i] = gradient[free[a]];
  }
  const unit = columns.map((column) => Math.sqrt(inner(column, column)));
  columns.forEach((column, a) => {
    for (let i = 0; i < column.length; i++) column[i] /= unit[a];
  });
  return { columns, unit };
}

/** Linear least squares by modified Gram–Schmidt: this runs thousands of times a profile. */
function newtonStep(
  problem: NonlinearProblem,
  b: readonly number[],
  residuals: readonly number[],
  free: readonly number[],
) {
  const { columns, unit } = scaledJacobian(problem, b, free);
  const left = Float64Array.from(residuals);
  const r = columns.map(() => columns.map(() => 0));
  const onto = columns.map(() => 0);
  for (let j = 0; j < columns.length; j++) {
    const column = columns[j];
    r[j][j] = Math.sqrt(inner(column, column));
    // Columns have length 1, so what is left of one that depends on the others is rounding.
    if (!(r[j][j] > 1e-12)) {
      throw failure(
        'too-few-values',
        'The readings cannot tell the parameters of this curve apart.',
      );
    }
    for (let i = 0; i < column.length; i++) column[i] /= r[j][j];
    onto[j] = takeOut(left, column);
    for (let k = j + 1; k < columns.length; k++) {
      r[j][k] = takeOut(columns[k], column);
    }
  }
  const step = b.map(() => 0);
  for (let j = columns.length - 1; j >= 0; j--) {
    let value = onto[j];
    for (let k = j + 1; k < columns.length; k++) value -= r[j][k] * step[free[k]] * unit[k];
    step[free[j]] = value / r[j][j] / unit[j];
  }
  return { step, size: squares(onto) };
}
