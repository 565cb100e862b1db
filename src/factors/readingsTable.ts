/** A table of readings to be corrected, row by row. */
import type { ErrorParts } from '../error.js';
import { numberOf, requiredNumberOf, textOf } from '../record/cells.js';
import {
  type ColumnPlan,
  type Columns,
  findColumns,
  missingColumns,
  quantityOf,
  unitShift,
  unknownColumns,
  withUnits,
} from '../record/columns.js';
import { readTable, type Table, type TableRow } from '../record/table.js';
import { unitsInCells } from '../record/unitsInCells.js';
import type { Warning } from '../vocabulary.js';

export const READING_COLUMNS: ColumnPlan = {
  byRow: ['reading', 'zero'],
  powers: ['reading', 'zero'],
  numbers: ['wavelength_nm', 'read_at_s', 'setting_nm'],
  words: ['group', 'seating', 'unit', 'date', 'note'],
};

/** One row that can be read. */
export interface ReadingRow {
  readonly wavelength_nm: number;
  readonly reading_mW: number;
  readonly zero_mW: number;
  readonly read_at_s: number | null;
  readonly setting_nm: number | null;
  /** Day of the reading as typed; `null` where the cell is empty. */
  readonly date: string | null;
  /** Rows of one group are readings of one power; empty: a power of its own. */
  readonly group: string;
  /** Rows of one seating were read with the head left where it was. */
  readonly seating: string;
}

/** A row of the table with what was read in it, or why nothing was. */
export interface TypedRow {
  readonly row: TableRow;
  readonly reading: ReadingRow | null;
  /** Why it cannot be read; empty when it can. */
  readonly problem: string;
}

export interface ReadingsTable {
  readonly table: Table;
  /** Whether its numbers are written with a decimal comma. */
  readonly decimalComma: boolean;
  readonly rows: readonly TypedRow[];
  readonly warnings: readonly Warning[];
}

/**
 * Reads a table of readings (CSV as runs.csv may be written: separated by commas, semicolons or tabs, with
 * decimal points or commas, powers in W, mW or uW). A row that cannot be read says why and stops no other.
 *
 * @returns `null` where there is no table at all; its faults are in the list
 */
export function readingsTable(
  text: string,
  file: string,
  faults: ErrorParts[],
): ReadingsTable | null {
  const plan = READING_COLUMNS;
  const table = readTable(text, file, (name) => quantityOf(name, plan) !== null, faults);
  if (table === null) return null;
  const plain = unitsInCells(table);
  const columns = findColumns(plain, plan, faults);
  const needed = [
    ['wavelength_nm'],
    withUnits('reading'),
    ...([...columns.found.values()].some(({ shift }) => shift === 'row') ? [['unit']] : []),
  ];
  faults.push(...missingColumns(columns, needed));
  if (faults.length > 0) return null;
  return {
    table,
    decimalComma: table.separator !== ',' && columns.marks.comma !== 'none',
    rows: plain.rows.map((row, i) => ({ ...typedRow(columns, row), row: table.rows[i] ?? row })),
    warnings: unknownColumns(columns, plan),
  };
}

function typedRow(columns: Columns, row: TableRow): TypedRow {
  const faults: ErrorParts[] = [];
  const at = { columns, row, faults };
  const wavelength_nm = requiredNumberOf(at, 'wavelength_nm');
  const reading_mW = requiredNumberOf(at, 'reading');
  const optional = (quantity: string) => numberOf(at, quantity);
  const reading = {
    zero_mW: optional('zero') ?? 0,
    read_at_s: optional('read_at_s'),
    setting_nm: optional('setting_nm'),
    date: textOf(at, 'date') || null,
    group: textOf(at, 'group'),
    seating: textOf(at, 'seating'),
  };
  const unit = textOf(at, 'unit');
  if (columns.found.has('unit') && unitShift(unit) === null) {
    const found = unit === '' ? 'empty' : `"${unit}"`;
    return { row, reading: null, problem: `unit: this is no unit that is read here (${found}).` };
  }
  const problem = faults
    .map(({ column, message, found }) => `${column}: ${message}${found ? ` (${found})` : ''}`)
    .join(' ');
  return wavelength_nm === null || reading_mW === null || problem !== ''
    ? { row, reading: null, problem }
    : { row, reading: { wavelength_nm, reading_mW, ...reading }, problem: '' };
}
