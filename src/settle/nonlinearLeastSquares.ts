import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import { failure } from '../error.js';
import { requireAsMany, requireShape, type Shape } from '../statistics/shapes.js';
import { requireValues } from '../statistics/summary.js';
import { gaussNewton } from './gaussNewton.js';
import type { NonlinearFit, NonlinearProblem } from './nonlinearProblem.js';

const PROBLEM: Shape = {
  fields: {
    curve: { fields: { value: 'function', gradient: 'function' } },
    lower: { maybe: { list: 'any-number' } },
    fixed: { maybe: { list: 'yes-or-no' } },
    kinked: { maybe: 'number' },
    iterations: { maybe: 'above-zero' },
  },
};

/**
 * Fits a curve by least squares: Levenberg and Marquardt (ml-levenberg-marquardt) from the start
 * values, then Gauss–Newton steps until nothing improves, which also gives the covariance.
 *
 * @throws argument-wrong, too-few-values, no-convergence
 * Accuracy: NIST StRD Misra1a and BoxBOD to the certified 11 digits from both starts of each.
 */
export function nonlinearLeastSquares(problem: NonlinearProblem): NonlinearFit {
  requireShape(problem, 'The problem', PROBLEM);
  const { x, y, curve, start } = problem;
  requireValues(x, 1, 'A fit (x)');
  requireValues(y, 1, 'A fit (y)');
  requireValues(start, 1, 'A fit (start)');
  requireAsMany(x, y, 'A fit needs as many x as y values.');
  // In units of the start values, because the library's damping takes all parameters for alike.
  const unit = start.map((value) => Math.abs(value) || 1);
  const scaled = (b: readonly number[]) => b.map((value, j) => value * unit[j]);
  const { parameterValues } = solved(() =>
    levenbergMarquardt(
      { x: x as number[], y: y as number[] },
      (b) => (at) => curve.value(scaled(b), at),
      {
        initialValues: start.map((value, j) => value / unit[j]),
        ...(problem.lower === undefined
          ? {}
          : { minValues: problem.lower.map((value, j) => value / unit[j]) }),
        jacobianFunction: (b) => (at) =>
          curve
            .gradient(scaled(b), at)
            .map((value, j) => (problem.fixed?.[j] ? 0 : value * unit[j])),
        // The library stops only at an error below the tolerance, so the count decides.
        errorTolerance: 0,
        maxIterations: problem.iterations ?? 150,
      },
    ),
  );
  return gaussNewton({ ...problem, start: scaled(parameterValues) });
}

/** The library throws errors of its own where it finds no way on, and gives NaN where it overflows. */
function solved<T extends { readonly parameterValues: readonly number[] }>(make: () => T): T {
  const stuck = () => failure('no-convergence', 'The fit of the curve does not settle.');
  let found: T;
  try {
    found = make();
  } catch {
    throw stuck();
  }
  if (!found.parameterValues.every(Number.isFinite)) throw stuck();
  return found;
}
