import { leastSquares } from '../statistics/leastSquares.js';
import type { NonlinearFit, NonlinearProblem } from './nonlinearProblem.js';

/**
 * A fit to thinned readings, brought to all of them: Gauss–Newton steps whose sums are taken in one
 * pass over the readings each, so that no matrix as long as the trace is needed. For a start that is
 * all but there.
 *
 * @param problem of all readings
 * @param start the fit to the thinned ones
 * @throws too-few-values
 */
export function fitOnAll(problem: NonlinearProblem, start: NonlinearFit): NonlinearFit {
  const { x, y, curve, lower } = problem;
  const free = start.parameters.map((_, j) => j).filter((j) => !problem.fixed?.[j]);
  const sumsAt = (b: readonly number[]) => {
    const squares = free.map(() => new Float64Array(free.length));
    const onto = new Float64Array(free.length);
    let rest = 0;
    for (let i = 0; i < x.length; i++) {
      const residual = y[i] - curve.value(b, x[i]);
      const gradient = curve.gradient(b, x[i]);
      rest += residual * residual;
      for (let a = 0; a < free.length; a++) {
        onto[a] += gradient[free[a]] * residual;
        for (let c = a; c < free.length; c++)
          squares[a][c] += gradient[free[a]] * gradient[free[c]];
      }
    }
    return { squares, onto, rest };
  };
  let b = start.parameters;
  let sums = sumsAt(b);
  for (let round = 0; round < 20; round++) {
    const { inverse } = normalMatrix(sums.squares);
    const step = inverse.map((row) => row.reduce((sum, value, c) => sum + value * sums.onto[c], 0));
    const gain = step.reduce((sum, value, a) => sum + value * sums.onto[a], 0);
    if (!(gain > 1e-20 * sums.rest)) break;
    const next = b.map((value, j) => {
      const a = free.indexOf(j);
      return a < 0 ? value : Math.max(lower?.[j] ?? Number.NEGATIVE_INFINITY, value + step[a]);
    });
    const found = sumsAt(next);
    if (!(found.rest < sums.rest)) break;
    b = next;
    sums = found;
  }
  const { inverse } = normalMatrix(sums.squares);
  const covariance = b.map(() => b.map(() => 0));
  free.forEach((j, a) => {
    free.forEach((k, c) => {
      covariance[j][k] = inverse[a][c];
    });
  });
  return {
    parameters: b,
    unscaledCovariance: covariance,
    residuals: y.map((value, i) => value - curve.value(b, x[i])),
    residualSumOfSquares: sums.rest,
    dof: y.length - free.length,
  };
}

/** Inverse of J'J from its upper half, brought to ones on its diagonal first. */
function normalMatrix(upper: readonly Float64Array[]) {
  const unit = upper.map((row, a) => Math.sqrt(row[a]) || 1);
  const whole = upper.map((_, a) =>
    upper.map((__, c) => upper[Math.min(a, c)][Math.max(a, c)] / (unit[a] * unit[c])),
  );
  const columns = upper.map(
    (_, c) =>
      leastSquares(
        whole,
        upper.map((__, a) => (a === c ? 1 : 0)),
      ).coefficients,
  );
  return { inverse: columns.map((column, c) => column.map((v, a) => v / (unit[a] * unit[c]))) };
}
