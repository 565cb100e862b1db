import { extremes } from '../statistics/summary.js';
import type { TraceReadings } from './readTrace.js';

/** Means of neighbouring readings, each with the number of readings in it. */
export interface ThinnedTrace extends TraceReadings {
  readonly counts: readonly number[];
}

/** Shorter traces are taken as they are. */
const SHORT = 600;
/** Width of a mean during the rise, in time constants. */
const FINE = 0.01;
/** Every so many time constants later the means get e times as wide. */
const WIDENS = 4;
/** Means are no wider than this part of the trace: a drift runs through all of it. */
const WIDEST = 1 / 200;
/** Readings on either side of a known onset that stay single: a mean over the kink would blur it. */
const AT_ONSET = 20;

/** What is known of the rise. */
export interface Rise {
  readonly onset_s: number;
  readonly time_constant_s: number;
}

/**
 * A long trace as few weighted readings: as many as its time constant needs. A mean over the width w
 * differs from the curve at the mean time by (w/τ)²/24 of what is still missing there, so w may grow
 * as that falls.
 *
 * @param rise from a fit; left out: from a first look, and fine from well before it
 * @returns `null` where nothing is won
 */
export function thinnedTrace(trace: TraceReadings, rise?: Rise): ThinnedTrace | null {
  const { elapsed_s: t, reading_mW: y } = trace;
  const n = t.length;
  if (n <= SHORT) return null;
  const { onset_s: onset, time_constant_s: tau } = rise ?? firstLook(trace);
  const single = rise === undefined ? n : t.findIndex((time) => time >= onset) - AT_ONSET;
  const widest = WIDEST * (t[n - 1] - t[0]);
  const endOf = (from: number): number => {
    const s = (t[from] - onset) / tau;
    if (s < 0) return Math.min(onset, t[from] + widest);
    return t[from] + Math.min(widest, FINE * tau * Math.exp(s / WIDENS));
  };
  const thin = { elapsed_s: [] as number[], reading_mW: [] as number[], counts: [] as number[] };
  let from = 0;
  while (from < n) {
    const apart = from >= single && from < single + 2 * AT_ONSET;
    const end = apart ? Number.NEGATIVE_INFINITY : endOf(from);
    const stop = from < single ? Math.min(n, single) : n;
    let [time, reading, to] = [0, 0, from];
    do {
      time += t[to] - t[from];
      reading += y[to];
      to++;
    } while (to < stop && t[to] < end);
    thin.elapsed_s.push(t[from] + time / (to - from));
    thin.reading_mW.push(reading / (to - from));
    thin.counts.push(to - from);
    from = to;
  }
  return thin.counts.length > n / 2 ? null : thin;
}

/**
 * A rise from 30 to 70 % takes 0.85 time constants; one that is over at once a step of the clock. Noise
 * makes it look shorter, and the means finer than they need be.
 */
function firstLook({ elapsed_s: t, reading_mW: y }: TraceReadings): Rise {
  const highest = extremes(y)[1];
  const at = (part: number) => t[y.findIndex((value) => value >= part * highest)];
  const tau = Math.max((at(0.7) - at(0.3)) / 0.85, (t[t.length - 1] - t[0]) / t.length);
  return { onset_s: at(0.3) - 4 * tau, time_constant_s: tau };
}
