import { MeterpairError } from '../error.js';
import { moment } from '../record/moment.js';
import { numberCell } from '../record/numberCell.js';
import type { Bench } from './bench.js';
import { isMeasured, rowsAround, type SheetRow } from './sheetRows.js';

/** Whether a run needs its time of day: the first of a series may have one, the others as those above. */
export type StartTime = 'may' | 'must' | 'no';

export function startTime({ groups }: Pick<Bench, 'groups'>, row: number): StartTime {
  const above = rowsAround(groups, row).findLast(isMeasured);
  if (above === undefined) return 'may';
  return above.started === '' ? 'no' : 'must';
}

/**
 * When a run started, in the way in which the rows above it in the series say it; with date, time and
 * zone where it is the first. `null`: the rows above say nothing, and a series is timed as a whole or
 * not at all.
 *
 * @param started_ms ms since 1970; `null`: nobody knows
 * @param ahead_min minutes that the local clock is ahead of UTC
 * @throws row-inconsistent where the rows above count seconds, from nobody knows when, or have times
 *   and this run has none
 */
export function startedText(
  { groups, sheet }: Bench,
  next: SheetRow,
  { started_ms, ahead_min }: { readonly started_ms: number | null; readonly ahead_min: number },
): string | null {
  if (started_ms === null) return startTime({ groups }, next.row) === 'must' ? untimed(next) : null;
  const local = new Date(started_ms + 60_000 * ahead_min).toISOString().slice(0, 19);
  const above = rowsAround(groups, next.row).findLast(isMeasured);
  if (above === undefined) return `${local}${zoneText(ahead_min)}`;
  if (above.started === '') return null;
  const { table, marks } = sheet.columns;
  const kind = moment(
    above.started,
    numberCell(above.started, { separator: table.separator, marks }),
  )?.kind;
  if (kind === 'date and time with zone') return `${local}${zoneText(ahead_min)}`;
  if (kind === 'date and time') return local;
  if (kind === 'time of day') return local.slice(11);
  throw new MeterpairError({
    code: 'row-inconsistent',
    file: 'runs.csv',
    row: next.row,
    column: 'started_at',
    message: `The rows above count seconds ("${above.started}"), and the page cannot tell from when.`,
    expected: 'a new series for this evening, or times as 10:31:20 in the rows above',
  });
}

function untimed({ row }: SheetRow): never {
  throw new MeterpairError({
    code: 'row-inconsistent',
    file: 'runs.csv',
    row,
    column: 'started_at',
    message: 'The rows above have their times, and this run has none.',
    expected: 'the time of its switch-on, or a series in which no run has a time',
  });
}

function zoneText(ahead_min: number): string {
  const two = (value: number) => String(value).padStart(2, '0');
  const size = Math.abs(ahead_min);
  return `${ahead_min < 0 ? '-' : '+'}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}
