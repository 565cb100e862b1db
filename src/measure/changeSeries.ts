/** What happens to runs that are written: taken back by a reason, closed, followed by more laps. */
import { runOrder } from '../plan/runOrder.js';
import { parseStudy } from '../record/parseStudy.js';
import { type Answer, refused } from './answer.js';
import { type Bench, type BenchFiles, readBench, seriesInHand } from './bench.js';
import { orderOf } from './seriesOrder.js';
import { harmless, withCells, withRowsBelow } from './sheet.js';
import { CLOSED, isClosed, isMeasured, type RowsOfSeries } from './sheetRows.js';

/** Nothing is deleted: the run keeps its row and its numbers, and the reason goes into `exclude`. */
export function takeBack(
  files: BenchFiles,
  { row, reason }: { readonly row: number; readonly reason: string },
): Answer {
  const bench = readBench(files);
  const own = bench.rows.find((one) => one.row === row);
  if (own === undefined || !isMeasured(own)) return refused('No run is written in that row.');
  if (own.exclude !== '') return refused(`The run is left out already: ${own.exclude}`);
  const group = bench.groups.find(({ rows }) => rows.includes(own));
  if (group !== undefined && isClosed(group)) {
    return refused(
      'Its series is closed and K has been seen. Where a reason of physics is remembered later, write it into runs.csv, and say so.',
    );
  }
  const words = harmless(reason);
  if (words === '') return refused('A reason is needed: nothing is left out without one.');
  return readable(files, withCells(bench.sheet, row, { exclude: words }));
}

/** The planned laps are done and no more are wanted: from now on K is shown, and none can be added. */
export function closeSeries(files: BenchFiles): Answer {
  const bench = readBench(files);
  const open = doneAndOpen(bench);
  const last = open?.rows.at(-1);
  if (last === undefined) return refused('No series waits to be closed.');
  const note = [last.note, CLOSED].filter((text) => text !== '').join('; ');
  return readable(files, withCells(bench.sheet, last.row, { note }));
}

/**
 * Adds laps, in the order of the series, to the one in hand and to those of the same source that have
 * not begun, so that all of them stay alike.
 */
export function addLaps(files: BenchFiles, { laps }: { readonly laps: number }): Answer {
  if (!Number.isSafeInteger(laps) || laps < 1 || laps > 100) {
    return refused('Laps to add must be a whole number from 1 to 100.');
  }
  const bench = readBench(files);
  const open = doneAndOpen(bench);
  if (open === null) return refused('Laps can be added when the planned ones are done.');
  const source = open.rows[0]?.source;
  const later = bench.groups
    .slice(bench.groups.indexOf(open) + 1)
    .filter(({ rows }) => rows[0]?.source === source && !rows.some(isMeasured));
  // From below, so that the rows above keep their numbers.
  const text = [open, ...later].reverse().reduce((runs, group) => {
    const { sheet } = readBench({ ...files, runs });
    return withRowsBelow(sheet, group.rows.at(-1)?.row ?? 1, addedRows(bench, group, laps));
  }, files.runs);
  return readable(files, text);
}

function addedRows(bench: Bench, { rows }: RowsOfSeries, laps: number) {
  const planned = rows.flatMap(({ meter }) => meter ?? []);
  const order = orderOf(planned, bench.settings.protocol.order);
  const done = Math.ceil(rows.length / 2);
  const first = rows[0];
  const { found } = bench.sheet.columns;
  const shared = {
    ...(first?.series ? { series: first.series } : {}),
    ...(found.has('source') ? { source: first?.source ?? '' } : {}),
    ...(found.has('wavelength_nm') ? { wavelength_nm: String(first?.wavelength_nm ?? '') } : {}),
    ...(first?.filter ? { filter: first.filter } : {}),
    ...(found.has('unit') ? { unit: first?.unit ?? 'mW' } : {}),
  };
  return runOrder(order, done + laps)
    .slice(2 * done)
    .map((meter, index) => ({
      ...shared,
      meter,
      note: `lap ${done + 1 + Math.floor(index / 2)}, added`,
    }));
}

/** The series in hand once all of its rows are measured; `null` while it is not, or is closed. */
function doneAndOpen(bench: Bench): RowsOfSeries | null {
  const { open } = bench;
  if (open === null || isClosed(open) || seriesInHand(bench) === null) return null;
  return open.rows.every(isMeasured) ? open : null;
}

/** Nothing goes to disk that could not be read back. */
function readable(files: BenchFiles, runs: string): Answer {
  parseStudy(files.study, { ...files, runs });
  return { kind: 'written', file: 'runs.csv', text: runs };
}
