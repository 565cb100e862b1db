import { extremes } from '../statistics/summary.js';
import type { TraceReadings } from './readTrace.js';

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
      ? [
          0,
          ...t.slice(0, rise + 1).flatMap((value, i) => [(value + (t[i - 1] ?? 0)) / 2, value]),
        ].filter((value) => value >= 0)
      : [options.onset];
  const falling = [...new Set(onsets)].sort((a, b) => b - a);
  let best: [number, number, number, number] | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (let step = 0; step <= 40; step++) {
    const tau = length * 0.002 * 10_000 ** (step / 40);
    const sums = risenSums(t, y, tau);
    for (const onset of falling) {
      const found = linearPart(sums.since(onset), tau, options.drift);
      if (found !== null && found.squares < least) {
        least = found.squares;
        best = [found.settled, tau, onset, found.drift];
      }
    }
  }
  return best;
}

/** Sums over the readings after an onset: s the time since it, e = exp(−s/τ), y the reading. */
interface Sums {
  n: number;
  e: number;
  ee: number;
  s: number;
  ss: number;
  se: number;
  y: number;
  ye: number;
  ys: number;
  /** Of all readings, those before the onset included. */
  readonly yy: number;
}

/**
 * The sums for one onset after the other, each not later than the one before: readings join one by
 * one, and what is there only ages, by factors below one, so all onsets together are one pass.
 */
function risenSums(t: readonly number[], y: readonly number[], tau: number) {
  const yy = y.reduce((sum, value) => sum + value * value, 0);
  const sums: Sums = { n: 0, e: 0, ee: 0, s: 0, ss: 0, se: 0, y: 0, ye: 0, ys: 0, yy };
  let from = Number.POSITIVE_INFINITY;
  let next = t.length - 1;
  // In place: what refers to the old sum of another comes before that is moved.
  const age = (to: number): void => {
    const d = sums.n === 0 ? 0 : from - to;
    const left = Math.exp(-d / tau);
    sums.ss = sums.ss + 2 * d * sums.s + sums.n * d * d;
    sums.se = (sums.se + d * sums.e) * left;
    sums.s = sums.s + sums.n * d;
    sums.e = sums.e * left;
    sums.ee = sums.ee * left * left;
    sums.ye = sums.ye * left;
    sums.ys = sums.ys + d * sums.y;
    from = to;
  };
  const since = (onset: number): Sums => {
    while (next >= 0 && t[next] > onset) {
      age(t[next]);
      const reading = y[next];
      sums.n += 1;
      sums.e += 1;
      sums.ee += 1;
      sums.y += reading;
      sums.ye += reading;
      next--;
    }
    age(onset);
    return sums;
  };
  return { since };
}

/** reading = A · risen + B · (s − τ · risen), risen = 1 − e, with B = A · drift. */
function linearPart(
  { n, e, ee, s, ss, se, y, ye, ys, yy }: Sums,
  tau: number,
  withDrift: boolean,
): { readonly settled: number; readonly drift: number; readonly squares: number } | null {
  const rr = n - 2 * e + ee;
  const rs = s - se;
  const rl = rs - tau * rr;
  const ll = ss - 2 * tau * rs + tau * tau * rr;
  const ry = y - ye;
  const ly = ys - tau * ry;
  const determinant = rr * ll - rl * rl;
  if (withDrift && !(determinant > 1e-10 * rr * ll)) return null;
  const settled = withDrift ? (ry * ll - ly * rl) / determinant : ry / rr;
  const slope = withDrift ? (rr * ly - rl * ry) / determinant : 0;
  if (!(settled > 0) || !Number.isFinite(slope / settled)) return null;
  return { settled, drift: slope / settled, squares: yy - settled * ry - slope * ly };
}
