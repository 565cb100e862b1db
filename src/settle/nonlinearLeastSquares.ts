import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import { argumentWrong, MeterpairError } from '../error.js';
import { leastSquares } from '../statistics/leastSquares.js';
import { requireValues } from '../statistics/summary.js';

/** A curve with its derivatives. */
export interface Curve {
  readonly value: (parameters: readonly number[], x: number) => number;
  /** Partial derivatives by the parameters, in their order. */
  readonly gradient: (parameters: readonly number[], x: number) => readonly number[];
}

export interface NonlinearFit {
  readonly parameters: readonly number[];
  /** Covariance of the free parameters for unit variance; 0 for those held fixed. */
  readonly unscaledCovariance: readonly (readonly number[])[];
  readonly residuals: readonly number[];
  readonly residualSumOfSquares: number;
  readonly dof: number;
}

export interface NonlinearProblem {
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly curve: Curve;
  readonly start: readonly number[];
  /** Least allowed values; −∞ where left out. */
  readonly lower?: readonly number[];
  /** Which parameters keep their start value. */
  readonly fixed?: readonly boolean[];
  /** A parameter in which the curve has kinks (an onset), so that the best fit may sit on one. */
  readonly kinked?: number;
  /** Levenberg–Marquardt iterations before the Gauss–Newton steps (default 150). */
  readonly iterations?: number;
}

/**
 * Fits a curve by least squares: Levenberg and Marquardt (ml-levenberg-marquardt) from the start
 * values, then Gauss–Newton steps until nothing improves, which also gives the covariance.
 *
 * @throws argument-wrong, too-few-values, no-convergence
 * Accuracy: NIST StRD Misra1a to the certified 11 digits from both starts. The library alone reaches
 * them too, given the analytic derivatives; the added steps are what tells that it has.
 */
export function nonlinearLeastSquares(problem: NonlinearProblem): NonlinearFit {
  const { x, y, curve, start } = problem;
  requireValues(x, 1, 'A fit (x)');
  requireValues(y, 1, 'A fit (y)');
  requireValues(start, 1, 'A fit (start)');
  if (x.length !== y.length) throw argumentWrong('A fit needs as many x as y values.');
  // In units of the start values, because the library's damping takes all parameters for alike.
  const unit = start.map((value) => Math.abs(value) || 1);
  const scaled = (b: readonly number[]) => b.map((value, j) => value * unit[j]);
  const found = levenbergMarquardt(
    { x: x as number[], y: y as number[] },
    (b) => (at) => curve.value(scaled(b), at),
    {
      initialValues: start.map((value, j) => value / unit[j]),
      ...(problem.lower === undefined
        ? {}
        : { minValues: problem.lower.map((value, j) => value / unit[j]) }),
      jacobianFunction: (b) => (at) =>
        curve.gradient(scaled(b), at).map((value, j) => (problem.fixed?.[j] ? 0 : value * unit[j])),
      // The library stops only at an error below the tolerance, so the count decides.
      errorTolerance: 0,
      maxIterations: problem.iterations ?? 150,
    },
  );
  return gaussNewton({ ...problem, start: scaled(found.parameterValues) });
}

/**
 * Gauss–Newton steps, each halved until it improves the fit. For a start close to the answer.
 *
 * @throws too-few-values when the readings cannot tell the parameters apart, no-convergence
 */
export function gaussNewton(problem: NonlinearProblem): NonlinearFit {
  const { x, y, curve } = problem;
  const lower = problem.lower ?? problem.start.map(() => Number.NEGATIVE_INFINITY);
  const held = problem.start.map((_, j) => problem.fixed?.[j] ?? false);
  const rest = (b: readonly number[]) => y.map((value, i) => value - curve.value(b, x[i]));
  const squares = (e: readonly number[]) => e.reduce((sum, value) => sum + value * value, 0);
  let b = problem.start.map((value, j) => Math.max(value, lower[j]));
  let residuals = rest(b);
  let sum = squares(residuals);
  for (let round = 0; round < 200; round++) {
    const { step, size } = newtonStep(problem, b, residuals, held);
    let factor = 1;
    let improved = false;
    while (factor > 1e-10) {
      const next = b.map((value, j) => Math.max(lower[j], value + factor * step[j]));
      const nextResiduals = rest(next);
      const nextSum = squares(nextResiduals);
      if (nextSum < sum) {
        b = next;
        residuals = nextResiduals;
        sum = nextSum;
        improved = true;
        break;
      }
      factor /= 2;
    }
    // What is left to gain, relative to what there is, decides; rounding ends the rest.
    if (!improved || size <= 1e-24 * sum) {
      const yy = squares(y);
      const onBound = b.some((value, j) => !held[j] && value <= lower[j]);
      if (!improved && !onBound && size > 1e-9 * sum && size > 1e-24 * yy) {
        const { kinked, ...smooth } = problem;
        if (kinked === undefined || held[kinked]) break;
        // On a kink no common step helps: the others are fitted with this one held.
        const still = held.map((value, j) => value || j === kinked);
        const rest = gaussNewton({ ...smooth, start: b, fixed: still });
        return finish(problem, rest.parameters, rest.residuals, rest.residualSumOfSquares, held);
      }
      return finish(problem, b, residuals, sum, held);
    }
  }
  throw new MeterpairError({
    code: 'no-convergence',
    message: 'The fit of the curve does not settle.',
  });
}

function newtonStep(
  problem: NonlinearProblem,
  b: readonly number[],
  residuals: readonly number[],
  held: readonly boolean[],
) {
  const free = b.map((_, j) => j).filter((j) => !held[j]);
  const step = b.map(() => 0);
  if (free.length === 0) return { step, size: 0 };
  const { rows, unit } = scaledJacobian(problem, b, free);
  const fit = leastSquares(rows, residuals);
  free.forEach((j, a) => {
    step[j] = fit.coefficients[a] / unit[a];
  });
  return { step, size: fit.fitted.reduce((sum, value) => sum + value * value, 0) };
}

function scaledJacobian(problem: NonlinearProblem, b: readonly number[], free: readonly number[]) {
  const gradient = problem.x.map((at) => problem.curve.gradient(b, at));
  const unit = free.map((j) => Math.sqrt(gradient.reduce((sum, g) => sum + g[j] ** 2, 0)) || 1);
  return { rows: gradient.map((g) => free.map((j, a) => g[j] / unit[a])), unit };
}

function finish(
  problem: NonlinearProblem,
  b: readonly number[],
  residuals: readonly number[],
  sum: number,
  held: readonly boolean[],
): NonlinearFit {
  const free = b.map((_, j) => j).filter((j) => !held[j]);
  const covariance = b.map(() => b.map(() => 0));
  if (free.length > 0) {
    const { rows, unit } = scaledJacobian(problem, b, free);
    const fit = leastSquares(rows, residuals);
    free.forEach((j, a) => {
      free.forEach((k, c) => {
        covariance[j][k] = fit.unscaledCovariance[a][c] / (unit[a] * unit[c]);
      });
    });
  }
  return {
    parameters: b,
    unscaledCovariance: covariance,
    residuals,
    residualSumOfSquares: sum,
    dof: problem.y.length - free.length,
  };
}
