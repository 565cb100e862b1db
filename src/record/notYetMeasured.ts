/** The rows of a half-filled runs.csv that nobody has measured yet. */
import type { ErrorParts } from '../error.js';
import type { Warning } from '../vocabulary.js';
import { textOf } from './cells.js';
import type { Columns } from './columns.js';
import type { RunLayout, WaitingRow } from './runTable.js';
import type { TableRow } from './table.js';

const FILE = 'runs.csv';

/**
 * Splits a table at the last row that has a reading: what stands below it was planned and is not yet
 * measured. A row there with a peak, a reason in `exclude` or a mark in `checked` was measured all the
 * same, and stays, so that what it lacks is a fault.
 */
export function splitMeasured(
  columns: Columns,
  layout: RunLayout,
): { readonly measured: readonly TableRow[]; readonly waiting: readonly WaitingRow[] } {
  const { rows } = columns.table;
  const telling = [
    ...(layout === 'tidy' ? ['reading', 'peak'] : ['reference', 'candidate']),
    'exclude',
    'checked',
  ];
  const last = rows.findLastIndex((row) =>
    telling.some((quantity) => textOf({ columns, row }, quantity) !== ''),
  );
  return {
    measured: rows.slice(0, last + 1),
    waiting: rows.slice(last + 1).map((row) => ({
      row: row.row,
      series: textOf({ columns, row }, 'series'),
      meter: textOf({ columns, row }, 'meter').toLowerCase(),
    })),
  };
}

/** A table with nothing but planned rows. */
export function nothingMeasured(planned: number, layout: RunLayout): ErrorParts {
  const what = layout === 'tidy' ? 'run' : 'lap';
  return {
    code: 'no-rows',
    file: FILE,
    message: `${planned} ${what}${planned === 1 ? ' is' : 's are'} planned and none is measured yet.`,
    expected: 'readings, from the first row on',
  };
}

/** What is still to be measured, so that no half of a study passes for the whole. */
export function notYetMeasured(
  waiting: readonly WaitingRow[],
  measured: number,
  layout: RunLayout,
): Warning {
  const counts = new Map<string, number>();
  for (const { series } of waiting) counts.set(series, (counts.get(series) ?? 0) + 1);
  const named = [...counts].filter(([series]) => series !== '');
  const where = named.map(([series, count]) => `"${series}" (${count})`).join(', ');
  const [first, last] = [waiting[0]?.row, waiting.at(-1)?.row];
  const place = first === last ? `row ${first} has` : `rows ${first} to ${last} have`;
  const what = layout === 'tidy' ? 'runs' : 'laps';
  return {
    code: 'not-yet-measured',
    message: `${FILE}: ${place} no reading yet: ${waiting.length} of ${waiting.length + measured} ${what} are not yet measured${where === '' ? '' : `, in ${where}`}. The answer is that of the ${what} measured so far.`,
  };
}
