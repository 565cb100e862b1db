import { argumentWrong } from '../error.js';
import { requireAsMany, requireList, requireRecord } from '../statistics/shapes.js';
import { requireValues } from '../statistics/summary.js';
import type { Trace } from '../vocabulary.js';

/** What the functions of this folder need of a trace. */
export type TraceReadings = Pick<Trace, 'elapsed_s' | 'reading_mW'>;

/** @throws argument-wrong unless times and readings are finite, as many, and no time lies before the one above it. */
export function requireTrace(trace: TraceReadings): void {
  requireRecord(trace, 'A trace', ['elapsed_s', 'reading_mW']);
  const { elapsed_s, reading_mW } = trace;
  requireList(elapsed_s, 'The times of a trace');
  requireList(reading_mW, 'The readings of a trace');
  requireAsMany(elapsed_s, reading_mW, 'A trace needs a time for every reading.');
  requireValues(elapsed_s, 0, 'A trace (time)');
  requireValues(reading_mW, 0, 'A trace (reading)');
  const back = elapsed_s.findIndex((t, i) => i > 0 && t < elapsed_s[i - 1]);
  if (back > 0) {
    throw argumentWrong(
      'The times of a trace must not run backwards.',
      `${elapsed_s[back]} s after ${elapsed_s[back - 1]} s`,
    );
  }
}
