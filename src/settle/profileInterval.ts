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
  const side = (direction: -1 | 1): number | null => {
    const excess = excessOf(problem, best, options);
    const ends = bracketed(excess, { value: centre, excess: -(coverage ** 2) }, direction, {
      u,
      coverage,
    });
    return ends === null ? null : crossing(excess, ends, { u, coverage });
  };
  return [side(-1), side(1)];
}

/** By how much the best fit at a value is worse than the interval allows; `null`: there is none. */
type Excess = (value: number) => number | null;

interface Place {
  readonly value: number;
  readonly excess: number;
}

interface Scale {
  readonly u: number;
  readonly coverage: number;
}

/** Each fit starts where the one before ended. */
function excessOf(
  problem: NonlinearProblem,
  best: NonlinearFit,
  { parameter, sd, coverage }: Parameters<typeof profileInterval>[2],
): Excess {
  const fixed = best.parameters.map((_, j) => j === parameter || (problem.fixed?.[j] ?? false));
  let start = best.parameters;
  return (value) => {
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
}

/** Growing steps from the best value until the fit is worse than allowed; `null`: it never is. */
function bracketed(
  excess: Excess,
  best: Place,
  direction: -1 | 1,
  { u, coverage }: Scale,
): readonly [Place, Place] | null {
  let [near, far] = [best, best];
  let step = coverage * u;
  for (let grow = 0; grow < 12 && far.excess < 0; grow++) {
    near = far;
    const next = near.value + direction * step;
    // Positive parameters are approached by halves rather than crossed.
    const value = next <= 0 && best.value > 0 ? near.value / 2 : next;
    const found = excess(value);
    if (found === null) return null;
    far = { value, excess: found };
    step *= 1.6;
  }
  return far.excess < 0 ? null : [near, far];
}

/** False position on the square root of the rise, which is nearly straight. */
function crossing(
  excess: Excess,
  [near, far]: readonly [Place, Place],
  { u, coverage }: Scale,
): number | null {
  const root = (value: number) => Math.sqrt(Math.max(0, value + coverage ** 2)) - coverage;
  let [a, b] = [near.value, far.value];
  let [fa, fb] = [root(near.excess), root(far.excess)];
  for (let round = 0; round < 40 && Math.abs(b - a) > 1e-5 * u; round++) {
    const middle = round % 3 === 2 ? (a + b) / 2 : (a * fb - b * fa) / (fb - fa);
    const found = excess(middle);
    if (found === null) return null;
    const f = root(found);
    if (Math.abs(f) < 1e-5) return middle;
    if (f < 0) [a, fa] = [middle, f];
    else [b, fb] = [middle, f];
  }
  return (a * fb - b * fa) / (fb - fa);
}
