/** The rows of runs.csv, cell by cell, before they are put together into series. */
import type { ErrorParts } from '../error.js';
import { suggestion } from '../statistics/didYouMean.js';
import type { Warning } from '../vocabulary.js';
import { type CheckedRow, refuse, textOf, wordFault } from './cells.js';
import { findColumns, unitShift, unknownColumns } from './columns.js';
import { whileShown } from './faults.js';
import { METERS } from './meters.js';
import { nothingMeasured, notYetMeasured, splitMeasured } from './notYetMeasured.js';
import { excludeOf, nameOf, readingOf, startedOf, wavelengthOf } from './runCells.js';
import { columnFaults, isKnownHeading, layoutOf, planOf } from './runLayout.js';
import type { EntryReading, RunEntry, RunLayout, RunTable } from './runTable.js';
import { readTable } from './table.js';
import { unitsInCells } from './unitsInCells.js';

const FILE = 'runs.csv';

/** Reads runs.csv in either layout. Faults and warnings go to the given lists; `null`: no table. */
export function runEntries(
  text: string,
  faults: ErrorParts[],
  warnings: Warning[],
): RunTable | null {
  const typed = readTable(text, FILE, isKnownHeading, faults);
  if (typed === null) return null;
  const table = unitsInCells(typed);
  const layout = layoutOf(table, faults);
  if (layout === null) return null;
  const plan = planOf(table, layout);
  const columns = findColumns(table, plan, faults);
  const before = faults.length;
  for (const fault of columnFaults(columns, layout)) faults.push(fault);
  if (faults.length > before) return null;
  warnings.push(...unknownColumns(columns, plan));
  if (table.separator !== ',' && columns.marks.point === 'likely') {
    warnings.push({
      code: 'decimal-point-assumed',
      message: `${FILE}: numbers such as 1.234 were read with a decimal point (a little over one). If your spreadsheet writes thousands with a point, switch that off and save again.`,
    });
  }
  if (table.rows.length === 0) {
    faults.push({
      code: 'no-rows',
      file: FILE,
      message: 'There is a heading and no run below it.',
      expected: layout === 'tidy' ? 'one row a run' : 'one row a lap',
    });
  }
  const { measured, waiting } = splitMeasured(columns, layout);
  if (waiting.length > 0) {
    if (measured.length === 0) faults.push(nothingMeasured(waiting.length, layout));
    else warnings.push(notYetMeasured(waiting, measured.length, layout));
  }
  const doubts: ErrorParts[] = [];
  const entries = measured.flatMap((row) => entry({ columns, row, faults }, layout, doubts) ?? []);
  return { layout, columns, entries, waiting, doubts };
}

function entry(at: CheckedRow, layout: RunLayout, doubts: ErrorParts[]): RunEntry | null {
  const exclude = excludeOf(at);
  checkUnit(at);
  const readings =
    layout === 'tidy'
      ? [tidyReading(at, exclude, doubts)]
      : METERS.map((meter) => readingOf(at, { meter, quantity: meter, exclude }, doubts));
  const shared = {
    row: at.row.row,
    series: nameOf(at, 'series'),
    source: nameOf(at, 'source'),
    filter: nameOf(at, 'filter'),
    wavelength_nm: wavelengthOf(at, 'wavelength_nm'),
    setting_nm: wavelengthOf(at, 'setting_nm'),
    started: startedOf(at),
    exclude,
    checked: textOf(at, 'checked') !== '',
    note: textOf(at, 'note') || null,
  };
  const complete = readings.filter((item) => item !== null);
  return complete.length === readings.length ? { ...shared, readings: complete } : null;
}

/** Where there is a column `unit`, every row has to state one. */
function checkUnit(at: CheckedRow): void {
  if (!at.columns.found.has('unit')) return;
  const typed = textOf(at, 'unit');
  if (unitShift(typed) !== null) return;
  const found = wordFault(typed, {
    empty: 'The cell is empty, so nobody can tell in which unit this row is written.',
    unknown: () => 'This is no unit that is read here.',
  });
  refuse(at, 'unit', { ...found, expected: 'mW, W or uW' });
}

function tidyReading(
  at: CheckedRow,
  exclude: string | null,
  doubts: ErrorParts[],
): EntryReading | null {
  const typed = textOf(at, 'meter');
  const meter = METERS.find((role) => role === typed.toLowerCase()) ?? null;
  if (meter === null) {
    const unknown = () =>
      `This names neither meter.${whileShown(at.faults, () => suggestion(typed, METERS))}`;
    const empty = 'The cell is empty, so nobody can tell which meter this run is of.';
    const expected = 'reference (the meter you trust) or candidate (the meter to be corrected)';
    refuse(at, 'meter', { ...wordFault(typed, { empty, unknown }), expected });
  }
  const which = { meter: meter ?? 'reference', quantity: 'reading', exclude } as const;
  const found = readingOf(at, which, doubts);
  return meter === null ? null : found;
}
