/** The rows of runs.csv, cell by cell, before they are put together into series. */
import type { ErrorParts } from '../error.js';
import { suggestion } from '../statistics/didYouMean.js';
import type { Warning } from '../vocabulary.js';
import { cellFault, textOf, wordFault } from './cells.js';
import { type Columns, findColumns, unitShift, unknownColumn } from './columns.js';
import { whileShown } from './faults.js';
import { nothingMeasured, notYetMeasured, splitMeasured } from './notYetMeasured.js';
import { excludeOf, nameOf, readingOf, startedOf, wavelengthOf } from './runCells.js';
import { columnFaults, isKnownHeading, layoutOf, planOf } from './runLayout.js';
import type { EntryReading, RunEntry, RunLayout, RunTable } from './runTable.js';
import { readTable, type TableRow } from './table.js';
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
  for (const heading of columns.unknown) {
    warnings.push({ code: 'unknown-column', message: unknownColumn(columns, heading, plan) });
  }
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
  const entries = measured.flatMap((row) => entry(columns, row, layout, faults, doubts) ?? []);
  return { layout, columns, entries, waiting, doubts };
}

function entry(
  columns: Columns,
  row: TableRow,
  layout: RunLayout,
  faults: ErrorParts[],
  doubts: ErrorParts[],
): RunEntry | null {
  const exclude = excludeOf(columns, row, faults);
  checkUnit(columns, row, faults);
  const readings =
    layout === 'tidy'
      ? [tidyReading(columns, row, exclude, faults, doubts)]
      : (['reference', 'candidate'] as const).map((meter) =>
          readingOf(columns, row, { meter, quantity: meter, exclude }, faults, doubts),
        );
  const shared = {
    row: row.row,
    series: nameOf(columns, row, 'series', faults),
    source: nameOf(columns, row, 'source', faults),
    filter: nameOf(columns, row, 'filter', faults),
    wavelength_nm: wavelengthOf(columns, row, 'wavelength_nm', faults),
    setting_nm: wavelengthOf(columns, row, 'setting_nm', faults),
    started: startedOf(columns, row, faults),
    exclude,
    checked: textOf(columns, row, 'checked') !== '',
    note: textOf(columns, row, 'note') || null,
  };
  const complete = readings.filter((item) => item !== null);
  return complete.length === readings.length ? { ...shared, readings: complete } : null;
}

/** Where there is a column `unit`, every row has to state one. */
function checkUnit(columns: Columns, row: TableRow, faults: ErrorParts[]): void {
  if (!columns.found.has('unit')) return;
  const typed = textOf(columns, row, 'unit');
  if (unitShift(typed) !== null) return;
  const found = wordFault(typed, {
    empty: 'The cell is empty, so nobody can tell in which unit this row is written.',
    unknown: () => 'This is no unit that is read here.',
  });
  faults.push(cellFault(columns, row, 'unit', { ...found, expected: 'mW, W or uW' }));
}

function tidyReading(
  columns: Columns,
  row: TableRow,
  exclude: string | null,
  faults: ErrorParts[],
  doubts: ErrorParts[],
): EntryReading | null {
  const typed = textOf(columns, row, 'meter');
  const role = typed.toLowerCase();
  const meter = role === 'reference' || role === 'candidate' ? role : null;
  if (meter === null) {
    const unknown = () =>
      `This names neither meter.${whileShown(faults, () => suggestion(typed, ['reference', 'candidate']))}`;
    const empty = 'The cell is empty, so nobody can tell which meter this run is of.';
    const expected = 'reference (the meter you trust) or candidate (the meter to be corrected)';
    const parts = { ...wordFault(typed, { empty, unknown }), expected };
    faults.push(cellFault(columns, row, 'meter', parts));
  }
  const found = readingOf(
    columns,
    row,
    { meter: meter ?? 'reference', quantity: 'reading', exclude },
    faults,
    doubts,
  );
  return meter === null ? null : found;
}
