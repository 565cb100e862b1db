/** What a result says, said once: a table as plain data that page, terminal and notebook render. */
import {
  formatDegreesOfFreedom,
  formatInterval,
  formatNumber,
  formatPower,
  formatProbability,
  formatRelative,
  NO_NUMBER,
} from './formatNumber.js';
import { formatUncertain } from './formatUncertain.js';

/**
 * How the cells of a column are printed. `text`: as it stands. `count`: a whole number. `number`: four
 * digits. `power`: the same, of a power. `bound`: a power rounded up. `value`: a number to the digits
 * that its uncertainty leaves, with `{ value, U }`; alone, four digits. `percent`: a number that is in
 * percent already, `fraction`: one that is not; both to two digits. `k`, `dof`, `p`: coverage factor,
 * degrees of freedom, p value.
 */
export type CellKind =
  | 'text'
  | 'count'
  | 'number'
  | 'power'
  | 'bound'
  | 'value'
  | 'percent'
  | 'fraction'
  | 'k'
  | 'dof'
  | 'p';

export interface FindingColumn {
  readonly head: string;
  readonly unit?: string;
  readonly kind: CellKind;
}

type End = number | null;

/** A text, a number, an interval, or a value with its uncertainty; `null`: there is none. */
export type Cell =
  | string
  | number
  | null
  | readonly [low: End, high: End]
  | { readonly value: End; readonly U: End; readonly both?: boolean };

export interface Finding {
  readonly id: string;
  readonly title: string;
  readonly columns: readonly FindingColumn[];
  /** The first cell of a row is its heading. */
  readonly rows: readonly (readonly Cell[])[];
  /** How the table is to be read. */
  readonly notes: readonly string[];
  /** What follows from it. */
  readonly sentences: readonly string[];
  /** Said instead of an empty table. */
  readonly empty: string;
}

export const words = (head: string): FindingColumn => ({ head, kind: 'text' });

/** A column of numbers, with their unit if they have one. */
export const numbers = (kind: CellKind, head: string, unit?: string): FindingColumn =>
  unit === undefined ? { head, kind } : { head, unit, kind };

export const WAVELENGTH: FindingColumn = numbers('number', 'At', 'nm');

/** A table of things that are alike: each column with what it says of one of them. */
export function table<Item>(
  items: readonly Item[],
  columns: readonly (readonly [FindingColumn, (one: Item) => Cell])[],
): Pick<Finding, 'columns' | 'rows'> {
  return {
    columns: columns.map(([column]) => column),
    rows: items.map((one) => columns.map(([, cell]) => cell(one))),
  };
}

/** A finding without notes and sentences says none. */
export function finding(
  parts: Pick<Finding, 'id' | 'title' | 'columns' | 'rows' | 'empty'> & Partial<Finding>,
): Finding {
  return { notes: [], sentences: [], ...parts };
}

/** The head of a column with its unit, "U / %". */
export function headOf({ head, unit }: FindingColumn): string {
  return unit === undefined ? head : `${head} / ${unit}`;
}

/** Whether a column is one of numbers, which stand to the right. */
export const isNumeric = ({ kind }: FindingColumn): boolean => kind !== 'text';

/** A cell as it is printed: the one place that says how many digits each kind of number has. */
export function cellText({ kind }: Pick<FindingColumn, 'kind'>, cell: Cell): string {
  if (cell === null) return NO_NUMBER;
  if (typeof cell === 'string') return cell === '' ? NO_NUMBER : cell;
  if (typeof cell === 'number') return numberText(kind, cell);
  if (!('value' in cell)) {
    return formatInterval(cell[0], cell[1], {
      as: kind === 'fraction' ? 'percent' : 'plain',
      unit: '',
    });
  }
  return formatUncertain(cell.value, cell.U, {
    as: kind === 'fraction' ? 'percent' : 'plain',
    unit: '',
    show: cell.both === true ? 'both' : 'value',
  });
}

function numberText(kind: CellKind, value: number): string {
  switch (kind) {
    case 'text':
    case 'number':
      return formatNumber(value);
    case 'count':
      return String(value);
    case 'power':
      return formatNumber(value);
    case 'bound':
      return formatPower(value, { up: true, unit: '' });
    case 'value':
      return formatNumber(value, { keepZeros: true });
    case 'percent':
      return formatNumber(value, { digits: 2, keepZeros: true });
    case 'fraction':
      return formatRelative(value);
    case 'k':
      return formatNumber(value, { digits: 3, keepZeros: true });
    case 'dof':
      return formatDegreesOfFreedom(value);
    case 'p':
      return formatProbability(value);
  }
}
