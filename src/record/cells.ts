/** The cells of a table by quantity. */
import type { ErrorParts } from '../error.js';
import { type Column, type Columns, unitShift } from './columns.js';
import { numberCell } from './numberCell.js';
import type { TableRow } from './table.js';

/** A row of a table; its cells are not needed to say where it stands. */
type RowOf<Row> = { readonly columns: Columns; readonly row: Row };
type Place = RowOf<Pick<TableRow, 'row'> & Partial<TableRow>>;

/** A row whose cells are read; what is wrong with them goes to `faults`. */
export type CheckedRow = RowOf<TableRow> & { readonly faults: ErrorParts[] };

/** The text of a cell; empty when the column or the cell is not there. */
export function textOf(at: RowOf<TableRow>, quantity: string): string {
  const column = columnOf(at, quantity);
  return column === undefined ? '' : (at.row.cells[column.index] ?? '');
}

/** The heading, as typed, of the column that a row uses for a quantity; without its cells, of the first. */
export function headingOf(at: RowOf<Partial<TableRow>>, quantity: string): string {
  return columnOf(at, quantity)?.heading ?? quantity;
}

/** Notes a fault of one cell, with its place; `null`, as the value of a cell that has none. */
export function refuse(
  at: Place & Pick<CheckedRow, 'faults'>,
  quantity: string,
  parts: Omit<ErrorParts, 'file' | 'row' | 'column'>,
): null {
  const column = headingOf(at, quantity);
  at.faults.push({ file: at.columns.table.file, row: at.row.row, column, ...parts });
  return null;
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
export function numberOf(at: CheckedRow, quantity: string): number | null {
  const { columns, row, faults } = at;
  const filled = filledColumns(at, quantity);
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
  const shift = column.shift === 'row' ? unitShift(textOf(at, 'unit')) : column.shift;
  // A unit that is none has a fault of its own.
  if (shift === null) return null;
  const { separator } = columns.table;
  const cell = numberCell(text, { separator, marks: columns.marks }, shift);
  if ('value' in cell) return cell.value;
  const { problem: message, expected } = cell;
  return refuse(at, quantity, { code: 'cell-not-a-number', message, found: `"${text}"`, expected });
}

/** As `numberOf`, and an empty cell is a fault. */
export function requiredNumberOf(at: CheckedRow, quantity: string): number | null {
  if (!at.columns.found.has(quantity) || textOf(at, quantity) !== '') return numberOf(at, quantity);
  return refuse(at, quantity, {
    code: 'cell-missing',
    message: 'The cell is empty.',
    expected: 'a number, or the row left out if nothing was measured',
  });
}

function filledColumns(
  { columns, row: { cells = [] } }: RowOf<Partial<TableRow>>,
  quantity: string,
): readonly Column[] {
  const first = columns.found.get(quantity);
  const all = columns.several.get(quantity) ?? (first === undefined ? [] : [first]);
  return all.filter(({ index }) => (cells[index] ?? '') !== '');
}

/** The column that a row fills for a quantity, or the first of it. */
function columnOf(at: RowOf<Partial<TableRow>>, quantity: string): Column | undefined {
  return filledColumns(at, quantity)[0] ?? at.columns.found.get(quantity);
}
