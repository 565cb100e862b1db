/** runs.csv as text that can be added to: every row that is not touched keeps its bytes. */
import Papa from 'papaparse';
import { type ErrorParts, MeterpairError } from '../error.js';
import { FORMULA } from '../findings/csvText.js';
import { withoutControls } from '../findings/escape.js';
import { type Columns, findColumns } from '../record/columns.js';
import { throwFaults } from '../record/faults.js';
import { columnFaults, isKnownHeading, layoutOf, planOf } from '../record/runLayout.js';
import { normalLines, readTable } from '../record/table.js';

const FILE = 'runs.csv';

export interface Sheet {
  readonly columns: Columns;
  /** Byte-order mark and a line `sep=;`, as they stand in front of the table. */
  readonly head: string;
  readonly newline: '\n' | '\r\n';
  /** The rows as they stand in the file; row n of a spreadsheet is `records[n − 1]`. */
  readonly records: readonly string[];
}

/** What to put into cells, by quantity (`reading`, `exclude` …). */
export type Cells = Readonly<Record<string, string>>;

/**
 * Reads the text of runs.csv with one row a run.
 *
 * @throws csv-invalid, column-missing … as `parseStudy`, and csv-invalid for one row a lap, in which
 *   a single run has no row to go into
 */
export function sheetOf(text: string): Sheet {
  const faults: ErrorParts[] = [];
  const table = readTable(text, FILE, isKnownHeading, faults);
  const layout = table === null ? null : layoutOf(table, faults);
  if (layout === 'side-by-side') {
    throw new MeterpairError({
      code: 'csv-invalid',
      file: FILE,
      message: 'This table has one row a lap; at the bench each run gets a row of its own.',
      expected: 'the columns meter and reading_mW, or another folder for this evening',
    });
  }
  throwFaults(faults);
  // Whatever withholds one of them has left a fault.
  if (table === null || layout === null) throw new Error('A table without a fault and a layout.');
  const columns = findColumns(table, planOf(table, layout), faults);
  faults.push(...columnFaults(columns, layout));
  throwFaults(faults);
  const head = /^\uFEFF?(?:sep=.(?:\r\n?|\n))?/i.exec(text)?.[0] ?? '';
  return {
    columns,
    head,
    newline: text.includes('\r\n') ? '\r\n' : '\n',
    records: recordsOf(normalLines(text.slice(head.length)), table.separator),
  };
}

/** The rows of a table as they stand there, line breaks within quotation marks included. */
function recordsOf(plain: string, delimiter: string): readonly string[] {
  const ends: number[] = [0];
  Papa.parse<string[]>(plain, {
    delimiter,
    newline: '\n',
    step: ({ meta }) => {
      ends.push(meta.cursor);
    },
  });
  const records = ends
    .slice(1)
    .map((end, index) => plain.slice(ends[index], end).replace(/\n$/, ''));
  return records.at(-1) === '' ? records.slice(0, -1) : records;
}

/** The text of the file with cells of one row put in; headings that are missing are added. */
export function withCells(sheet: Sheet, row: number, cells: Cells): string {
  const wider = withHeadings(sheet, Object.keys(cells));
  const records = wider.records.map((record, index) =>
    index === row - 1 ? recordWith(wider, record, cells) : record,
  );
  return textOfRecords(wider, records);
}

/** The text of the file with rows put in below a row. */
export function withRowsBelow(sheet: Sheet, row: number, rows: readonly Cells[]): string {
  const wider = withHeadings(sheet, rows.flatMap(Object.keys));
  const added = rows.map((cells) => recordWith(wider, '', cells));
  return textOfRecords(wider, [
    ...wider.records.slice(0, row),
    ...added,
    ...wider.records.slice(row),
  ]);
}

function textOfRecords({ head, newline }: Sheet, records: readonly string[]): string {
  return head + records.map((record) => `${record.replaceAll('\n', newline)}${newline}`).join('');
}

function recordWith({ columns }: Sheet, record: string, cells: Cells): string {
  const { separator } = columns.table;
  const values = [...(Papa.parse<string[]>(record, { delimiter: separator }).data[0] ?? [])];
  for (const [quantity, text] of Object.entries(cells)) {
    const index = columns.found.get(quantity)?.index ?? 0;
    while (values.length <= index) values.push('');
    values[index] = text;
  }
  return Papa.unparse([values], { delimiter: separator });
}

/** Adds a heading at the right for each quantity that has no column yet. */
function withHeadings(sheet: Sheet, quantities: readonly string[]): Sheet {
  const { found, table } = sheet.columns;
  const missing = [...new Set(quantities)].filter((quantity) => !found.has(quantity));
  if (missing.length === 0) return sheet;
  const place = sheet.records.findIndex((record) => record.trim() !== '');
  const columns = new Map(found);
  const last = table.headings.findLastIndex((heading) => heading !== '');
  const headings = table.headings.slice(0, last + 1);
  for (const quantity of missing) {
    columns.set(quantity, { index: headings.length, heading: quantity, shift: 0 });
    headings.push(quantity);
  }
  return {
    ...sheet,
    columns: { ...sheet.columns, found: columns, table: { ...table, headings } },
    records: sheet.records.map((record, index) =>
      index === place ? Papa.unparse([headings], { delimiter: table.separator }) : record,
    ),
  };
}

/** Words for a cell: one line, and nothing that a spreadsheet would take for a formula. */
export function harmless(text: string): string {
  const line = withoutControls(text).trim();
  return FORMULA.test(line) ? `'${line}` : line;
}

/** A number as typed at the bench, with the decimal mark of the table. */
export function numberText({ columns }: Sheet, typed: string): string {
  const { table, marks } = columns;
  const comma = table.separator !== ',' && marks.comma !== 'none' && marks.point === 'none';
  return typed.trim().replace(/[.,]/, comma ? ',' : '.');
}
