import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import { argumentWrong } from '../error.js';
import { requireValues } from '../statistics/summary.js';
import { gaussNewton } from './gaussNewton.js';

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
