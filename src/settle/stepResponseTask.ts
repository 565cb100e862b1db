import { CONFIDENCE, requireOptions } from '../statistics/options.js';
import { requireShape } from '../statistics/shapes.js';
import { requireTrace, type TraceReadings } from './readTrace.js';

export interface StepResponseOptions {
  /** When the source came on, in the trace's time (default 0), or `fitted` (from 0 up). */
  readonly onset_s?: number | 'fitted';
  /** Also fit a slow straight change of the source (default false). */
  readonly drift?: boolean;
  /** Step of the display: floor of the residual standard deviation (default 0). */
  readonly resolution_mW?: number;
  /** Shortest trace that is believed, in time constants (default 1.5). */
  readonly leastTimeConstants?: number;
  readonly confidence?: number;
}

export interface StepResponseTask {
  /** The trace with its times moved by `shift_s`. */
  readonly trace: TraceReadings;
  readonly shift_s: number;
  /** Where the onset is held, in moved times; `null`: it is fitted. */
  readonly heldOnset_s: number | null;
  readonly drift: boolean;
  readonly resolution_mW: number;
  readonly leastTimeConstants: number;
  readonly confidence: number;
}

/** @throws argument-wrong */
export function stepResponseTask(
  trace: TraceReadings,
  options: StepResponseOptions,
): StepResponseTask {
  const {
    onset_s = 0,
    drift = false,
    resolution_mW = 0,
    leastTimeConstants = 1.5,
    confidence = 0.95,
  } = requireOptions(options, {
    onset_s: true,
    drift: { maybe: 'yes-or-no' },
    resolution_mW: { maybe: 'not-negative' },
    leastTimeConstants: { maybe: 'not-negative' },
    confidence: CONFIDENCE,
  });
  requireTrace(trace);
  const heldOnset_s = onset_s === 'fitted' ? null : onset_s;
  requireShape(heldOnset_s, 'The onset', { orNull: 'number' });
  const shift_s = heldOnset_s === null ? farFromZero(trace.elapsed_s) : 0;
  const asked = { shift_s, heldOnset_s, drift, resolution_mW, leastTimeConstants, confidence };
  return { trace: moved(trace, shift_s), ...asked };
}

const moved = ({ elapsed_s, reading_mW }: TraceReadings, shift_s: number): TraceReadings => ({
  elapsed_s: shift_s === 0 ? elapsed_s : elapsed_s.map((value) => value - shift_s),
  reading_mW,
});

/** Times so many times their span away from zero are no times since switch-on, such as those of a clock. */
const FAR = 100;

/**
 * By how much times are moved before the fit, so that no digits are lost in them: one span before the
 * first reading becomes zero where they lie far from it.
 */
function farFromZero(t: readonly number[]): number {
  const span = t[t.length - 1] - t[0];
  return t[0] > FAR * span ? t[0] - span : 0;
}
