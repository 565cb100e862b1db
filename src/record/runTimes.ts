/** When the runs of a series happened. */
import type { ErrorParts } from '../error.js';
import type { Warning } from '../vocabulary.js';
import { either } from './faults.js';
import { MOMENT_EXPECTED } from './moment.js';
import type { RunEntry } from './runTable.js';

export interface RunTimes {
  /** Whether the times were recorded. */
  readonly timed: boolean;
  /** Seconds since the first run of the series, one number a run; none: one second after the other. */
  readonly time_s: readonly number[];
}

/**
 * Times of the runs of one series, relative to its first run. Without `started_at` runs are evenly
 * spaced by 1 s. Side by side, `started_at` is that of the lap: its first run is taken to start
 * then, its second one half-way to the start of the next lap; the last lap, which has none, takes
 * the spacing of the lap before it.
 */
export function runTimes(
  series: string,
  entries: readonly RunEntry[],
  column: string,
  faults: ErrorParts[],
  warnings: Warning[],
): RunTimes {
  const even: RunTimes = { timed: false, time_s: [] };
  const started = entries.flatMap((entry) => entry.started ?? []);
  if (started.length === 0) return even;
  const fault = timesFault(entries);
  if (fault !== null) {
    faults.push({ file: 'runs.csv', column, ...fault });
    return even;
  }
  const origin = started[0]?.seconds ?? 0;
  // To the microsecond: below that, subtracting moments leaves noise of the arithmetic.
  const seconds = started.map((at) => Math.round((at.seconds - origin) * 1e6) / 1e6);
  if (seconds.every((second) => second === 0)) {
    if (seconds.length > 1) {
      warnings.push({
        code: 'times-all-equal',
        series,
        message: `All runs of the series "${series}" carry the same started_at; they are taken as evenly spaced instead.`,
      });
    }
    return even;
  }
  if (entries[0]?.readings.length === 1) return { timed: true, time_s: seconds };
  return {
    timed: true,
    time_s: seconds.flatMap((start, lap) => {
      const next = seconds[lap + 1];
      const spacing = next === undefined ? start - (seconds[lap - 1] ?? start) : next - start;
      return [start, start + spacing / 2];
    }),
  };
}

type Fault = Pick<ErrorParts, 'code' | 'row' | 'message' | 'found' | 'expected'>;

function timesFault(entries: readonly RunEntry[]): Fault | null {
  const kinds = [...new Set(entries.flatMap((entry) => entry.started?.kind ?? []))];
  const blank = entries.find((entry) => entry.started === null);
  if (blank !== undefined) {
    return {
      code: 'cell-missing',
      row: blank.row,
      message: 'Other runs of this series have a time and this one has none.',
      expected: `${MOMENT_EXPECTED} in every row of the series, or in none`,
    };
  }
  if (kinds.length > 1) {
    const odd = entries.find((entry) => entry.started?.kind !== kinds[0]);
    return {
      code: 'row-inconsistent',
      row: odd?.row ?? 0,
      message: 'The times of this series are written in different ways.',
      found: either(kinds),
      expected: 'one way of writing the time in the whole series',
    };
  }
  for (const [index, entry] of entries.entries()) {
    const before = entries[index - 1];
    if (before?.started && entry.started && entry.started.seconds < before.started.seconds) {
      return {
        code: 'row-inconsistent',
        row: entry.row,
        message: `Time runs backwards: this row starts ${before.started.seconds - entry.started.seconds} s before row ${before.row}.`,
        expected:
          'the rows of a series in the order in which they happened (past midnight: with the date)',
      };
    }
  }
  return null;
}
