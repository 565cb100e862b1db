import { argumentWrong, MeterpairError } from '../error.js';
import { requireOptions } from '../statistics/options.js';
import { extremes, standardDeviation } from '../statistics/summary.js';
import { requireTrace, type TraceReadings } from './readTrace.js';

export interface StabilityOptions {
  /** From when on the readings count, s in the trace's time: after the sensor has settled (default 0). */
  readonly from_s?: number;
  /** Over how many seconds up to the last reading the power is averaged; left out: all that counts. */
  readonly over_s?: number;
  /** How near to its mean the power has to stay to count as warm, as a fraction (default 0.01). */
  readonly within?: number;
}

export interface Stability {
  /** Highest reading of the whole trace, what came before the window included, and when. */
  readonly peak_mW: number;
  readonly peak_at_s: number;
  /** First and last moment of the window. */
  readonly from_s: number;
  readonly to_s: number;
  readonly readings: number;
  /** Time average over the window: each stretch between two readings as their mean. */
  readonly mean_mW: number;
  /** ΔP = 2 s/P̄ over the window, a fraction. */
  readonly relative_fluctuation: number;
  /** From when on every reading stays as near to the mean as asked; `null`: not even the last does. */
  readonly warm_at_s: number | null;
}

const FEWEST = 10;

/**
 * How steady is the source while it is on? Highest reading, mean over a time, relative fluctuation and warm-up
 * time, from one long trace. A sensor with a time constant shows no fluctuation that is faster than itself.
 *
 * @throws argument-wrong; too-few-values below ten readings in the window
 * Source: relative power fluctuation ΔP = 2 s/P̄ as ISO 11554 defines it (from memory); warm-up time as the time
 * from which the power stays within a stated part of its mean (common practice, no source).
 */
export function stability(trace: TraceReadings, options: StabilityOptions = {}): Stability {
  const {
    from_s: from = 0,
    over_s: over,
    within = 0.01,
  } = requireOptions(options, {
    from_s: { maybe: 'not-negative' },
    over_s: { maybe: 'above-zero' },
    within: { maybe: 'above-zero' },
  });
  requireTrace(trace);
  const { elapsed_s: t, reading_mW: P } = trace;
  const last = t.at(-1) ?? 0;
  if (over !== undefined && over > last - from) {
    throw argumentWrong('The trace is shorter than that.', `${last - from} s`, `${over} s`);
  }
  const begin = over === undefined ? from : last - over;
  const first = t.findIndex((time) => time >= begin);
  if (first < 0 || t.length - first < FEWEST) {
    throw new MeterpairError({
      code: 'too-few-values',
      message: 'How steady a source is needs a longer trace.',
      found: `${first < 0 ? 0 : t.length - first} readings from ${begin} s on`,
      expected: `${FEWEST} or more`,
    });
  }
  const mean = timeAverage(t, P, first);
  const peak = P.indexOf(extremes(P)[1]);
  return {
    peak_mW: P[peak],
    peak_at_s: t[peak],
    from_s: t[first],
    to_s: last,
    readings: t.length - first,
    mean_mW: mean,
    relative_fluctuation: (2 * standardDeviation(P.slice(first))) / mean,
    warm_at_s: warmAt(t, P, mean, within),
  };
}

function timeAverage(t: readonly number[], P: readonly number[], first: number): number {
  let area = 0;
  for (let i = first + 1; i < t.length; i++) area += ((P[i] + P[i - 1]) / 2) * (t[i] - t[i - 1]);
  return area / (t[t.length - 1] - t[first]);
}

function warmAt(
  t: readonly number[],
  P: readonly number[],
  mean: number,
  within: number,
): number | null {
  let i = P.length;
  while (i > 0 && Math.abs(P[i - 1] / mean - 1) <= within) i -= 1;
  return i === P.length ? null : t[i];
}
