/** Rows of a series that were written twice. */
import type { Run, Series } from '../../vocabulary.js';
import { firstMeter } from '../laps.js';

export interface RepeatedRow {
  /** The runs of the later row. */
  readonly runs: readonly Run[];
  /** The row that it repeats. */
  readonly of: number;
}

const ORDERS = ['reference-first', 'candidate-first', 'ABBA', 'ABBA-BAAB'] as const;

/**
 * Rows that repeat an earlier one. Equal readings alone prove nothing, since a coarse display shows
 * the same number again and again: the row has to carry the same time as well, or, without times, to
 * stand right below its twin and to break a turn-about that is whole without it.
 */
export function repeatedRows(series: Series): RepeatedRow[] {
  const rows = new Map<number, Run[]>();
  for (const run of series.runs) rows.set(run.row, [...(rows.get(run.row) ?? []), run]);
  const list = [...rows].map(([row, runs]) => ({ row, runs }));
  const counts = list.filter(({ runs }) => runs.every((run) => run.exclude === null));
  if (series.timed) {
    return counts.flatMap(({ runs }, index) => {
      const twin = counts
        .slice(0, index)
        .find((other) => startOf(other.runs) === startOf(runs) && alike(other.runs, runs));
      return twin === undefined || runs.some((run) => run.checked) ? [] : [{ runs, of: twin.row }];
    });
  }
  if (counts.some(({ runs }) => runs.length > 1)) return [];
  if (inOrder(series.runs)) return [];
  return list.flatMap(({ runs }, index) => {
    const twin = list[index - 1];
    if (twin === undefined || !counts.some((one) => one.runs === runs)) return [];
    if (!alike(twin.runs, runs) || runs.some((run) => run.checked)) return [];
    const rest = series.runs.filter((run) => !runs.includes(run));
    return inOrder(rest) ? [{ runs, of: twin.row }] : [];
  });
}

function startOf(runs: readonly Run[]): number {
  return Math.min(...runs.map((run) => run.time_s));
}

/** The same meters, numbers and words. */
function alike(a: readonly Run[], b: readonly Run[]): boolean {
  const key = (runs: readonly Run[]) =>
    JSON.stringify(
      [...runs]
        .sort((x, y) => (x.meter < y.meter ? 1 : -1))
        .map((run) => [
          run.meter,
          run.reading_mW,
          run.peak_mW,
          run.zero_mW,
          run.setting_nm,
          run.note,
        ]),
    );
  return key(a) === key(b);
}

/** Whole laps in one of the four orders. */
function inOrder(runs: readonly Run[]): boolean {
  if (runs.length < 4 || runs.length % 2 === 1) return false;
  return ORDERS.some((order) =>
    runs.every(({ meter }, index) => {
      const first = firstMeter(order, Math.floor(index / 2) + 1);
      return (meter === first) === (index % 2 === 0);
    }),
  );
}
