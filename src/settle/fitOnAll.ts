import { leastSquares } from '../statistics/leastSquares.js';
import type { NonlinearFit, NonlinearProblem } from './nonlinearProblem.js';
import { stepResponseCurve } from './stepResponseCurve.js';

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
  const { x, y, lower } = problem;
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
    residuals: residualsOf(b, x, y),
    residualSumOfSquares: sums.rest,
    dof: y.length - free.length,
  };
}

/**
 * J'J, J'r and r'r of the step response over all readings. One exponential a reading,
 * nothing set aside for it, and every sum a variable of its own: this is what a trace of a million
 * readings takes its time for. Letters: p settled, t time constant, o onset, d drift, r residual.
 */
function stepSums(
  b: readonly number[],
  t: readonly number[],
  y: readonly number[],
  free: readonly number[],
) {
  const [settled, tau, onset, drift] = b;
  const held = 1 - drift * tau;
  let [pp, pt, po, pd, tt, to, td, oo, od, dd] = [0, 0, 0, 0, 0, 0, 0, 0, 0, 0];
  let [pr, tr, or, dr, rest] = [0, 0, 0, 0, 0];
  for (let i = 0; i < t.length; i++) {
    const s = t[i] - onset;
    const reading = y[i];
    if (!(s > 0)) {
      rest += reading * reading;
      continue;
    }
    const left = Math.exp(-s / tau);
    const risen = 1 - left;
    const byP = held * risen + drift * s;
    const byT = settled * (-drift * risen - (held * left * s) / (tau * tau));
    const byO = -settled * ((held * left) / tau + drift);
    const byD = settled * (s - tau * risen);
    const residual = reading - settled * byP;
    rest += residual * residual;
    pr += byP * residual;
    tr += byT * residual;
    or += byO * residual;
    dr += byD * residual;
    pp += byP * byP;
    pt += byP * byT;
    po += byP * byO;
    pd += byP * byD;
    tt += byT * byT;
    to += byT * byO;
    td += byT * byD;
    oo += byO * byO;
    od += byO * byD;
    dd += byD * byD;
  }
  // In the order of SETTLED, TIME_CONSTANT, ONSET, DRIFT.
  const whole = [
    [pp, pt, po, pd],
    [pt, tt, to, td],
    [po, to, oo, od],
    [pd, td, od, dd],
  ];
  const onto = [pr, tr, or, dr];
  return {
    squares: free.map((j) => free.map((k) => whole[j][k])),
    onto: free.map((j) => onto[j]),
    rest,
  };
}

function residualsOf(b: readonly number[], t: readonly number[], y: readonly number[]): number[] {
  const { value } = stepResponseCurve;
  const residuals = new Array<number>(y.length);
  for (let i = 0; i < y.length; i++) residuals[i] = y[i] - value(b, t[i]);
  return residuals;
}

/** Inverse of J'J, brought to ones on its diagonal first. */
function normalMatrix(squares: readonly (readonly number[])[]) {
  const unit = squares.map((row, a) => Math.sqrt(row[a]) || 1);
  const whole = squares.map((row, a) => row.map((value, c) => value / (unit[a] * unit[c])));
  const columns = squares.map(
    (_, c) =>
      leastSquares(
        whole,
        squares.map((__, a) => (a === c ? 1 : 0)),
      ).coefficients,
  );
  return { inverse: columns.map((column, c) => column.map((v, a) => v / (unit[a] * unit[c]))) };
}
