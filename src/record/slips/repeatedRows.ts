/** Rows of a series that were written twice. */
import { groupedBy } from '../../statistics/groupedBy.js';
import type { Run, RunOrder, Series } from '../../vocabulary.js';
import { firstMeter } from '../laps.js';
import { RUN_ORDERS } from '../studySchema.js';

export interface RepeatedRow {
  /** The runs of the later row. */
  readonly runs: readonly Run[];
  /** The row that it repeats. */
  readonly of: number;
}

/**
 * Rows that repeat an earlier one. Equal readings alone prove nothing, since a coarse display shows
 * the same number again and again: the row has to carry the same time as well, or, without times, to
 * stand right below its twin and to break a turn-about that is whole without it.
 */
export function repeatedRows(series: Series): RepeatedRow[] {
  const rows = groupedBy(series.runs.map((run) => [run.row, run] as const));
  const list = [...rows].map(([row, runs]) => ({ row, runs }));
  const counts = list.filter(({ runs }) => runs.every((run) => run.exclude === null));
  if (series.timed) {
    const starts = counts.map(({ runs }) => startOf(runs));
    const times = new Map<number, number>();
    for (const start of starts) times.set(start, (times.get(start) ?? 0) + 1);
    // The first row of each kind, to be asked by everything that has to be equal.
    const twins = new Map<string, number>();
    return counts.flatMap(({ row, runs }, i) => {
      if (times.get(starts[i]!) === 1) return [];
      const key = `${starts[i]} ${contentOf(runs)}`;
      const twin = twins.get(key);
      if (twin === undefined) twins.set(key, row);
      return twin === undefined || runs.some((run) => run.checked) ? [] : [{ runs, of: twin }];
    });
  }
  if (counts.some(({ runs }) => runs.length > 1)) return [];
  if (inOrder(series.runs)) return [];
  const mends = whoseLossMends(series.runs);
  return list.flatMap(({ runs }, index) => {
    const twin = list[index - 1];
    if (twin === undefined || !mends(index)) return [];
    if (runs.some((run) => run.exclude !== null || run.checked)) return [];
    return contentOf(twin.runs) === contentOf(runs) ? [{ runs, of: twin.row }] : [];
  });
}

function startOf(runs: readonly Run[]): number {
  return Math.min(...runs.map((run) => run.time_s));
}

/** Meters, numbers and words. */
function contentOf(runs: readonly Run[]): string {
  return JSON.stringify(
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
}

/** Whole laps in one of the four orders. */
function inOrder(runs: readonly Run[]): boolean {
  if (runs.length < 4 || runs.length % 2 === 1) return false;
  return RUN_ORDERS.some((order) => runs.every((run, place) => stands(run, order, place)));
}

/**
 * Whether the runs would be whole laps in order without the one at a place: those before it have to
 * stand where they are, and those after it one place earlier.
 */
function whoseLossMends(runs: readonly Run[]): (place: number) => boolean {
  if (runs.length < 5 || runs.length % 2 === 0) return () => false;
  const ends = RUN_ORDERS.map((order) => {
    const odd = runs.findIndex((run, place) => !stands(run, order, place));
    return {
      before: odd < 0 ? runs.length : odd,
      after: runs.findLastIndex((run, place) => !stands(run, order, place - 1)),
    };
  });
  return (place) => ends.some(({ before, after }) => place <= before && place >= after);
}

function stands({ meter }: Run, order: RunOrder, place: number): boolean {
  return (meter === firstMeter(order, Math.floor(place / 2) + 1)) === (place % 2 === 0);
}
