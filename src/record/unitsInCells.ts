/** Cells that carry their unit, as "46.2 mW". */
import { unitShift } from './columns.js';
import type { Table } from './table.js';

const WITH_UNIT = /^(.*[\d.,])\s*([a-zµμ]{1,2})$/iu;

/** Quantities of a power that may stand in a heading without a unit. */
const POWERS = ['reading', 'peak', 'zero', 'reference', 'candidate'];

/**
 * The same table with plain numbers. A unit in a cell is read where it is that of the heading, and where every
 * cell of the column carries one of its own; a bare heading then stands for mW. Where some cells carry
 * another unit than the heading and others none, nobody can tell what these mean: the cells stay as they
 * are, and are refused as no numbers.
 */
export function unitsInCells(table: Table): Table {
  const changed = table.headings.map((heading, index) => columnInUnit(table, heading, index));
  if (changed.every((one) => one === null)) return table;
  return {
    ...table,
    headings: table.headings.map((heading, index) => changed[index]?.heading ?? heading),
    rows: table.rows.map(({ row, cells }) => ({
      row,
      cells: cells.map((cell, index) => changed[index]?.cell(cell) ?? cell),
    })),
  };
}

interface Changed {
  readonly heading: string;
  readonly cell: (cell: string) => string;
}

function columnInUnit(table: Table, heading: string, index: number): Changed | null {
  const cells = table.rows.map((row) => row.cells[index] ?? '').filter((cell) => cell !== '');
  const units = cells.map((cell) => WITH_UNIT.exec(cell)?.[2] ?? null);
  if (units.every((unit) => unit === null)) return null;
  const own = /_([a-zµμ]{1,2})$/iu.exec(heading)?.[1] ?? null;
  if (own !== null && units.every((unit) => unit === null || same(unit, own))) {
    return { heading, cell: (cell) => WITH_UNIT.exec(cell)?.[1].trim() ?? cell };
  }
  const shifts = units.map((unit) => (unit === null ? null : unitShift(unit)));
  if (shifts.includes(null)) return null;
  const bare = POWERS.includes(heading.toLowerCase()) && !hasUnitColumn(table);
  const target = own === null ? 0 : unitShift(own);
  if (target === null || (own === null && !bare)) return null;
  return { heading: own === null ? `${heading}_mW` : heading, cell: (cell) => moved(cell, target) };
}

/** Two ways of writing one unit. */
function same(a: string, b: string): boolean {
  const shift = unitShift(a);
  return shift === null ? a.toLowerCase() === b.toLowerCase() : shift === unitShift(b);
}

/** The number of a cell in another unit of power, by its exponent: no digit is touched. */
function moved(cell: string, target: number): string {
  const [, number = '', unit = ''] = WITH_UNIT.exec(cell) ?? [];
  const places = (unitShift(unit) ?? 0) - target;
  return places === 0 ? number.trim() : `${number.trim()}e${places}`;
}

function hasUnitColumn({ headings }: Table): boolean {
  return headings.some((heading) => heading.toLowerCase() === 'unit');
}
