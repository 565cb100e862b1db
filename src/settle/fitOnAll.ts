import { leastSquares } from '../statistics/leastSquares.js';
import { inner } from '../statistics/orthonormal.js';
import type { NonlinearFit, NonlinearProblem } from './nonlinearProblem.js';

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
    // What a step of this size leaves open is below what a double shows.
    if (gain < SMALL * sums.rest) {
      b = next;
      break;
    }
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
  const residuals = residualsOf(b, x, y);
  return {
    parameters: b,
    unscaledCovariance: covariance,
    residuals,
    residualSumOfSquares: inner(residuals, residuals),
    dof: y.length - free.length,
  };
}

/** So many readings at once. */
const BLOCK = 256;

/**
 * J'J, J'r and r'r of the step response over all readings. All derivatives are sums of 1, s, what has
 * risen and s times what is left, so the sums of these and of their products do. This is what a trace
 * of a million readings takes its time for: the exponentials of a block come first, since a call among
 * fifteen running sums makes the processor set all of them aside.
 */
function stepSums(
  b: readonly number[],
  t: readonly number[],
  y: readonly number[],
  free: readonly number[],
) {
  const [settled, tau, onset, drift] = b;
  const held = 1 - drift * tau;
  const times = new Float64Array(BLOCK);
  const risen = new Float64Array(BLOCK);
  // Letters: s time since the onset, r risen, d s times what is left, e residual.
  let [n, s, r, d, ss, sr, sd, rr, rd, dd] = [0, 0, 0, 0, 0, 0, 0, 0, 0, 0];
  let [e, es, er, ed, rest] = [0, 0, 0, 0, 0];
  let from = 0;
  for (; from < t.length && !(t[from] > onset); from++) rest += y[from] * y[from];
  for (; from < t.length; from += BLOCK) {
    const size = Math.min(BLOCK, t.length - from);
    for (let i = 0; i < size; i++) {
      times[i] = t[from + i] - onset;
      risen[i] = -Math.expm1(-times[i] / tau);
    }
    n += size;
    for (let i = 0; i < size; i++) {
      const since = times[i];
      const up = risen[i];
      s += since;
      r += up;
      ss += since * since;
      sr += since * up;
      rr += up * up;
    }
    for (let i = 0; i < size; i++) {
      const since = times[i];
      const up = risen[i];
      const delayed = since - since * up;
      d += delayed;
      sd += since * delayed;
      rd += up * delayed;
      dd += delayed * delayed;
    }
    for (let i = 0; i < size; i++) {
      const since = times[i];
      const up = risen[i];
      const residual = y[from + i] - settled * (held * up + drift * since);
      e += residual;
      es += residual * since;
      er += residual * up;
      ed += residual * (since - since * up);
      rest += residual * residual;
    }
  }
  const products = [
    [n, s, r, d],
    [s, ss, sr, sd],
    [r, sr, rr, rd],
    [d, sd, rd, dd],
  ];
  // How much of 1, s, r and d each derivative has, in the order of SETTLED, TIME_CONSTANT, ONSET, DRIFT.
  const derivatives = [
    [0, drift, held, 0],
    [0, 0, -settled * drift, (-settled * held) / tau ** 2],
    [-settled * (held / tau + drift), 0, (settled * held) / tau, 0],
    [0, settled, -settled * tau, 0],
  ];
  const onto = free.map((j) => inner(derivatives[j], [e, es, er, ed]));
  const squares = free.map((j) => {
    const row = products.map((sums) => inner(derivatives[j], sums));
    return free.map((k) => inner(derivatives[k], row));
  });
  return { squares, onto, rest };
}

function residualsOf(b: readonly number[], t: readonly number[], y: readonly number[]): number[] {
  const [settled, tau, onset, drift] = b;
  const held = 1 - drift * tau;
  // A copy is a list of doubles from the start.
  const residuals = Array.isArray(y) ? y.slice() : Array.from(y);
  for (let i = 0; i < residuals.length; i++) {
    const s = t[i] - onset;
    if (s > 0) residuals[i] -= settled * (drift * s - held * Math.expm1(-s / tau));
  }
  return residuals;
}

/** Inverse of J'J, brought to ones on its diagonal first. */
function normalMatrix(squares: readonly (readonly number[])[]) {
  const unit = squares.map((row, a) => Math.sqrt(row[a]));
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
