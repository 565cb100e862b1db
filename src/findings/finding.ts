/** What a result says, said once: a table as plain data that page, terminal and notebook render. */
import {
  formatDegreesOfFreedom,
  formatInterval,
  formatNumber,
  formatPower,
  formatProbability,
  formatRelative,
  NO_NUMBER,
  TWO_DIGITS,
} from './formatNumber.js';
import { formatUncertain } from './formatUncertain.js';

/** How a number is printed in a column of each kind: the one place that says how many digits it has. */
const PRINTED = {
  text: (value) => formatNumber(value),
  /** A whole number. */
  count: String,
  /** Four digits; a power, too. */
  number: (value) => formatNumber(value),
  power: (value) => formatNumber(value),
  /** A power rounded up. */
  bound: (value) => formatPower(value, { up: true, unit: '' }),
  /** With `{ value, U }` the digits that its uncertainty leaves; alone, four. */
  value: (value) => formatNumber(value, { keepZeros: true }),
  /** In percent already, and a fraction: both to two digits of a percentage. */
  percent: (value) => formatNumber(value, TWO_DIGITS),
  fraction: formatRelative,
  /** Coverage factor, degrees of freedom, p value. */
  k: (value) => formatNumber(value, { digits: 3, keepZeros: true }),
  dof: formatDegreesOfFreedom,
  p: formatProbability,
} satisfies Readonly<Record<string, (value: number) => string>>;

export type CellKind = keyof typeof PRINTED;

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

/** A value with half of its interval for its uncertainty. */
export const withHalf = (
  value: End,
  { low, high }: { readonly low: End; readonly high: End },
  both = false,
): Cell => ({ value, U: low === null || high === null ? null : (high - low) / 2, both });

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

/** A cell as it is printed. */
export function cellText({ kind }: Pick<FindingColumn, 'kind'>, cell: Cell): string {
  if (cell === null) return NO_NUMBER;
  if (typeof cell === 'string') return cell === '' ? NO_NUMBER : cell;
  if (typeof cell === 'number') return PRINTED[kind](cell);
  const as = kind === 'fraction' ? 'percent' : 'plain';
  if (!('value' in cell)) return formatInterval(cell[0], cell[1], { as, unit: '' });
  const show = cell.both === true ? 'both' : 'value';
  return formatUncertain(cell.value, cell.U, { as, unit: '', show });
}
