import { leastSquares } from '../statistics/leastSquares.js';
import type { NonlinearFit, NonlinearProblem } from './nonlinearProblem.js';
import { DRIFT, ONSET, SETTLED, TIME_CONSTANT } from './stepResponseCurve.js';

/** Part of the sum of squares that a last step gains. */
const SMALL = 1e-14;

/**
 * A fit to thinned readings, brought to all of them: Gauss–Newton steps whose sums are taken in one
 * pass over the readings each, so that no matrix as long as the trace is needed. For a start that is
 * all but there.
 *
 * @param problem of all readings, its curve the step response
 * @param start the fit to the thinned ones
 * @throws too-few-values
 */
export function fitOnAll(problem: NonlinearProblem, start: NonlinearFit): NonlinearFit {
  const { x, y, curve, lower } = problem;
  const free = start.parameters.map((_, j) => j).filter((j) => !problem.fixed?.[j]);
  const sumsAt = (b: readonly number[]) => stepSums(b, x, y, free);
  let b = start.parameters;
  let sums = sumsAt(b);
  for (let round = 0; round < 20; round++) {
    const { inverse } = normalMatrix(sums.squares);
    const step = inverse.map((row) => row.reduce((sum, value, c) => sum + value * sums.onto[c], 0));
    const gain = step.reduce((sum, value, a) => sum + value * sums.onto[a], 0);
    if (!(gain > 1e-6 * SMALL * sums.rest)) break;
    const next = b.map((value, j) => {
      const a = free.indexOf(j);
      return a < 0 ? value : Math.max(lower?.[j] ?? Number.NEGATIVE_INFINITY, value + step[a]);
    });
    const found = sumsAt(next);
    if (!(found.rest < sums.rest)) break;
    b = next;
    sums = found;
    // What a step of this size leaves open is below what a double shows.
    if (gain < SMALL * sums.rest) break;
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

/**
 * J'J (upper half), J'r and r'r of the step response over all readings. One exponential a reading, and
 * nothing set aside for it: this is what a trace of a million readings takes its time for.
 */
function stepSums(
  b: readonly number[],
  t: readonly number[],
  y: readonly number[],
  free: readonly number[],
) {
  const [settled, tau, onset, drift] = b;
  const held = 1 - drift * tau;
  const squares = free.map(() => new Float64Array(free.length));
  const onto = new Float64Array(free.length);
  const all = new Float64Array(4);
  let rest = 0;
  for (let i = 0; i < t.length; i++) {
    const s = t[i] - onset;
    if (!(s > 0)) {
      rest += y[i] * y[i];
      continue;
    }
    const left = Math.exp(-s / tau);
    const risen = 1 - left;
    all[SETTLED] = held * risen + drift * s;
    all[TIME_CONSTANT] = settled * (-drift * risen - (held * left * s) / (tau * tau));
    all[ONSET] = -settled * ((held * left) / tau + drift);
    all[DRIFT] = settled * (s - tau * risen);
    const residual = y[i] - settled * all[SETTLED];
    rest += residual * residual;
    for (let a = 0; a < free.length; a++) {
      const own = all[free[a]];
      onto[a] += own * residual;
      const row = squares[a];
      for (let c = a; c < free.length; c++) row[c] += own * all[free[c]];
    }
  }
  return { squares, onto, rest };
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
