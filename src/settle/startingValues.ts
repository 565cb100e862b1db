import { extremes } from '../statistics/summary.js';
import type { TraceReadings } from './readTrace.js';
import { DRIFT, ONSET, stepResponseCurve, TIME_CONSTANT } from './stepResponseCurve.js';

/**
 * Start values for the step response by a coarse search over time constant and onset; for each the
 * settled value (and the drift) follow by linear least squares. `null` when nothing rises.
 */
export function startingValues(
  trace: TraceReadings,
  options: { readonly onset: number | 'fitted'; readonly drift: boolean },
): [settled: number, tau: number, onset: number, drift: number] | null {
  const t = trace.elapsed_s;
  const y = trace.reading_mW;
  const length = t[t.length - 1] - Math.min(t[0], options.onset === 'fitted' ? 0 : options.onset);
  const highest = extremes(y)[1];
  const rise = Math.max(
    1,
    y.findIndex((value) => value > 0.3 * highest),
  );
  const onsets =
    options.onset === 'fitted'
      ? [0, ...t.slice(0, rise + 1).flatMap((value, i) => [(value + (t[i - 1] ?? 0)) / 2, value])]
      : [options.onset];
  const allowed = options.onset === 'fitted' ? onsets.filter((value) => value >= 0) : onsets;
  let best: [number, number, number, number] | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const onset of allowed) {
    for (let step = 0; step <= 40; step++) {
      const tau = length * 0.002 * 10_000 ** (step / 40);
      const found = linearPart(t, y, tau, onset, options.drift);
      if (found !== null && found.squares < least) {
        least = found.squares;
        best = [found.settled, tau, onset, found.drift];
      }
    }
  }
  return best;
}

function linearPart(
  t: readonly number[],
  y: readonly number[],
  tau: number,
  onset: number,
  withDrift: boolean,
): { readonly settled: number; readonly drift: number; readonly squares: number } | null {
  // reading = A · risen + B · (s − τ · risen), with B = A · drift.
  let rr = 0;
  let rl = 0;
  let ll = 0;
  let ry = 0;
  let ly = 0;
  const values = [1, 0, onset, 0];
  values[TIME_CONSTANT] = tau;
  values[ONSET] = onset;
  values[DRIFT] = 0;
  for (let i = 0; i < t.length; i++) {
    const risen = stepResponseCurve.value(values, t[i]);
    const lagged = t[i] > onset ? t[i] - onset - tau * risen : 0;
    rr += risen * risen;
    rl += risen * lagged;
    ll += lagged * lagged;
    ry += risen * y[i];
    ly += lagged * y[i];
  }
  const determinant = rr * ll - rl * rl;
  const usable = withDrift && determinant > 1e-10 * rr * ll;
  if (withDrift && !usable) return null;
  const settled = usable ? (ry * ll - ly * rl) / determinant : ry / rr;
  const drift = usable ? (rr * ly - rl * ry) / determinant / settled : 0;
  if (!(settled > 0) || !Number.isFinite(drift)) return null;
  const at = [settled, tau, onset, drift];
  const squares = t.reduce((sum, s, i) => sum + (y[i] - stepResponseCurve.value(at, s)) ** 2, 0);
  return { settled, drift, squares };
}
