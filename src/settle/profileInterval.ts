import { MeterpairError } from '../error.js';
import { descend } from './gaussNewton.js';
import type { NonlinearFit, NonlinearProblem } from './nonlinearProblem.js';

/**
 * Interval of one parameter from the profile of the residual sum of squares: all values whose best
 * fit is worse by no more than coverage² · sd². Unlike value ± k·u it follows the curve, so it may be
 * lopsided, and it is open (`null`) at an end that the data do not bound.
 *
 * Source: D. M. Bates, D. G. Watts (1988), Nonlinear Regression Analysis, section 6.1.2.
 */
export function profileInterval(
  problem: NonlinearProblem,
  best: NonlinearFit,
  options: { readonly parameter: number; readonly sd: number; readonly coverage: number },
): readonly [low: number | null, high: number | null] {
  const { parameter, sd, coverage } = options;
  const centre = best.parameters[parameter];
  const u = sd * Math.sqrt(best.unscaledCovariance[parameter][parameter]);
  if (!(u > 0)) return [centre, centre];
  const fixed = best.parameters.map((_, j) => j === parameter || (problem.fixed?.[j] ?? false));

  const side = (direction: -1 | 1): number | null => {
    let near = centre;
    let nearExcess = -(coverage ** 2);
    let start = best.parameters;
    const excess = (value: number): number | null => {
      const at = start.map((old, j) => (j === parameter ? value : old));
      try {
        const fit = descend({ ...problem, start: at, fixed }, 1e-10);
        start = fit.parameters;
        return (fit.residualSumOfSquares - best.residualSumOfSquares) / sd ** 2 - coverage ** 2;
      } catch (error) {
        if (error instanceof MeterpairError) return null;
        throw error;
      }
    };
    let far = centre;
    let farExcess = nearExcess;
    let step = coverage * u;
    for (let grow = 0; grow < 12 && farExcess < 0; grow++) {
      near = far;
      nearExcess = farExcess;
      far = near + direction * step;
      // Positive parameters are approached by halves rather than crossed.
      if (far <= 0 && centre > 0) far = near / 2;
      const found = excess(far);
      if (found === null) return null;
      farExcess = found;
      step *= 1.6;
    }
    if (farExcess < 0) return null;
    // False position on the square root of the rise, which is nearly straight.
    const root = (value: number) => Math.sqrt(Math.max(0, value + coverage ** 2)) - coverage;
    let a = near;
    let b = far;
    let fa = root(nearExcess);
    let fb = root(farExcess);
    for (let round = 0; round < 40 && Math.abs(b - a) > 1e-5 * u; round++) {
      const middle = round % 3 === 2 ? (a + b) / 2 : (a * fb - b * fa) / (fb - fa);
      const found = excess(middle);
      if (found === null) return null;
      const f = root(found);
      if (Math.abs(f) < 1e-5) return middle;
      if (f < 0) {
        a = middle;
        fa = f;
      } else {
        b = middle;
        fb = f;
      }
    }
    return (a * fb - b * fa) / (fb - fa);
  };
  return [side(-1), side(1)];
}
