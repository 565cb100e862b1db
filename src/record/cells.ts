/** The cells of a table by quantity. */
import type { ErrorParts } from '../error.js';
import { type Column, type Columns, unitShift } from './columns.js';
import { numberCell } from './numberCell.js';
import type { TableRow } from './table.js';

/** The text of a cell; empty when the column or the cell is not there. */
export function textOf(columns: Columns, row: TableRow, quantity: string): string {
  const column = columnOf(columns, row, quantity);
  return column === undefined ? '' : (row.cells[column.index] ?? '');
}

/** The heading, as typed, of the column that a row uses for a quantity; without its cells, of the first. */
export function headingOf(columns: Columns, row: Partial<TableRow>, quantity: string): string {
  return columnOf(columns, row, quantity)?.heading ?? quantity;
}

/** A fault of one cell, with its place. */
export function cellFault(
  columns: Columns,
  row: Pick<TableRow, 'row'> & Partial<TableRow>,
  quantity: string,
  parts: Omit<ErrorParts, 'file' | 'row' | 'column'>,
): ErrorParts {
  const column = headingOf(columns, row, quantity);
  return { file: columns.table.file, row: row.row, column, ...parts };
}

/** What is wrong with a cell that holds none of the words wanted: nothing, or another one. */
export function wordFault(
  typed: string,
  said: { readonly empty: string; readonly unknown: () => string },
): Pick<ErrorParts, 'code' | 'message' | 'found'> {
  return typed === ''
    ? { code: 'cell-missing', message: said.empty }
    : { code: 'cell-unknown-word', message: said.unknown(), found: `"${typed}"` };
}

/** The number in a cell, powers in mW; `null` when it is empty, or faulty and reported. */
export function numberOf(
  columns: Columns,
  row: TableRow,
  quantity: string,
  faults: ErrorParts[],
): number | null {
  const filled = filledColumns(columns, row, quantity);
  const [column] = filled;
  if (column === undefined) return null;
  if (filled.length > 1) {
    faults.push({
      code: 'row-inconsistent',
      file: columns.table.file,
      row: row.row,
      column: filled.map(({ heading }) => heading).join(' and '),
      message: 'The same quantity stands here under more than one unit.',
      found: filled.map(({ heading, index }) => `${heading} "${row.cells[index]}"`).join(' and '),
      expected: 'one of these cells filled, and the other empty',
    });
    return null;
  }
  const text = row.cells[column.index] ?? '';
  const shift = column.shift === 'row' ? unitShift(textOf(columns, row, 'unit')) : column.shift;
  // A unit that is none has a fault of its own.
  if (shift === null) return null;
  const { separator } = columns.table;
  const cell = numberCell(text, { separator, marks: columns.marks }, shift);
  if ('value' in cell) return cell.value;
  const { problem: message, expected } = cell;
  const parts = { code: 'cell-not-a-number', message, found: `"${text}"`, expected } as const;
  faults.push(cellFault(columns, row, quantity, parts));
  return null;
}

/** As `numberOf`, and an empty cell is a fault. */
export function requiredNumberOf(
  columns: Columns,
  row: TableRow,
  quantity: string,
  faults: ErrorParts[],
): number | null {
  if (columns.found.has(quantity) && textOf(columns, row, quantity) === '') {
    const expected = 'a number, or the row left out if nothing was measured';
    const parts = { code: 'cell-missing', message: 'The cell is empty.', expected } as const;
    faults.push(cellFault(columns, row, quantity, parts));
    return null;
  }
  return numberOf(columns, row, quantity, faults);
}

function filledColumns(
  columns: Columns,
  { cells = [] }: Partial<TableRow>,
  quantity: string,
): readonly Column[] {
  const first = columns.found.get(quantity);
  const all = columns.several.get(quantity) ?? (first === undefined ? [] : [first]);
  return all.filter(({ index }) => (cells[index] ?? '') !== '');
}

/** The column that a row fills for a quantity, or the first of it. */
function columnOf(columns: Columns, row: Partial<TableRow>, quantity: string): Column | undefined {
  return filledColumns(columns, row, quantity)[0] ?? columns.found.get(quantity);
}
