/** The cells of a table by quantity. */
import type { ErrorParts } from '../error.js';
import type { Columns } from './columns.js';
import { numberCell } from './numberCell.js';
import type { TableRow } from './table.js';

/** The text of a cell; empty when the column or the cell is not there. */
export function textOf(columns: Columns, row: TableRow, quantity: string): string {
  const column = columns.found.get(quantity);
  return column === undefined ? '' : (row.cells[column.index] ?? '');
}

/** The number in a cell, powers in mW; `null` when it is empty, or faulty and reported. */
export function numberOf(
  columns: Columns,
  row: TableRow,
  quantity: string,
  faults: ErrorParts[],
): number | null {
  const text = textOf(columns, row, quantity);
  const column = columns.found.get(quantity);
  if (text === '' || column === undefined) return null;
  const { separator, file } = columns.table;
  const cell = numberCell(text, { separator, marks: columns.marks }, column.shift);
  if ('value' in cell) return cell.value;
  faults.push({
    code: 'cell-not-a-number',
    file,
    row: row.row,
    column: column.heading,
    message: cell.problem,
    found: `"${text}"`,
    expected: cell.expected,
  });
  return null;
}

/** As `numberOf`, and an empty cell is a fault. */
export function requiredNumberOf(
  columns: Columns,
  row: TableRow,
  quantity: string,
  faults: ErrorParts[],
): number | null {
  const column = columns.found.get(quantity);
  if (column !== undefined && textOf(columns, row, quantity) === '') {
    faults.push({
      code: 'cell-missing',
      file: columns.table.file,
      row: row.row,
      column: column.heading,
      message: 'The cell is empty.',
      expected: 'a number, or the row left out if nothing was measured',
    });
    return null;
  }
  return numberOf(columns, row, quantity, faults);
}
