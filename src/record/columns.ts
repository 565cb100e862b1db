/** Which column of a table holds which quantity. */
import type { ErrorParts } from '../error.js';
import { didYouMean, suggestion } from '../statistics/didYouMean.js';
import type { Warning } from '../vocabulary.js';
import { either } from './faults.js';
import { type DecimalMarks, decimalMarks } from './numberCell.js';
import type { Table } from './table.js';

/**
 * What a table may hold. Powers carry their unit in the heading: `reading_mW`, `_W` or `_uW`; those
 * in `byRow` stand without one, and the column `unit` has it row by row.
 */
export interface ColumnPlan {
  readonly byRow?: readonly string[];
  readonly powers: readonly string[];
  readonly numbers: readonly string[];
  readonly words: readonly string[];
}

export interface Column {
  readonly index: number;
  /** The heading as typed. */
  readonly heading: string;
  /** Places by which the decimal point moves on the way to mW; `row`: as the row's unit says. */
  readonly shift: number | 'row';
}

export interface Columns {
  readonly table: Table;
  readonly marks: DecimalMarks;
  readonly found: ReadonlyMap<string, Column>;
  /** Every column of a power that stands under more than one unit, the first included. */
  readonly several: ReadonlyMap<string, readonly Column[]>;
  /** Headings that fit nothing in the plan. */
  readonly unknown: readonly string[];
}

const SHIFTS: ReadonlyMap<string, number> = new Map([
  ['mw', 0],
  ['w', 3],
  ['uw', -3],
]);

/** Places between a unit, in any mix of capitals and small letters, and mW; `null`: no such unit. */
export function unitShift(unit: string): number | null {
  return SHIFTS.get(plainUnit(unit)) ?? null;
}

function plainUnit(text: string): string {
  return text.trim().toLowerCase().replace(/[µμ]/gu, 'u');
}

/** The quantity and the unit that a heading names, in any mix of capitals and small letters. */
export function quantityOf(
  heading: string,
  plan: ColumnPlan,
): { readonly quantity: string; readonly shift: Column['shift'] } | null {
  const name = plainUnit(heading);
  const byRow = plan.byRow?.find((word) => word === name);
  if (byRow !== undefined) return { quantity: byRow, shift: 'row' };
  const plain = [...plan.numbers, ...plan.words].find((word) => word === name);
  if (plain !== undefined) return { quantity: plain, shift: 0 };
  const power = plan.powers.find((word) => name.startsWith(`${word}_`));
  const shift = power === undefined ? undefined : SHIFTS.get(name.slice(power.length + 1));
  return power === undefined || shift === undefined ? null : { quantity: power, shift };
}

/** The headings that a power may stand under. */
export function withUnits(power: string): string[] {
  return ['mW', 'W', 'uW'].map((unit) => `${power}_${unit}`);
}

/** Headings as docs/file-formats.md writes them. */
export function headingsOf(plan: ColumnPlan): string[] {
  return [...plan.words, ...(plan.byRow ?? []), ...plan.powers.flatMap(withUnits), ...plan.numbers];
}

/**
 * Finds every column of the plan. A power may stand under several units, for rows that fill one of
 * them; any other quantity that stands twice is a fault.
 */
export function findColumns(table: Table, plan: ColumnPlan, faults: ErrorParts[]): Columns {
  const found = new Map<string, Column>();
  const several = new Map<string, readonly Column[]>();
  const unknown: string[] = [];
  table.headings.forEach((heading, index) => {
    if (heading === '') return;
    const known = quantityOf(heading, plan);
    if (known === null) {
      unknown.push(heading);
      return;
    }
    const column: Column = { index, heading, shift: known.shift };
    const first = found.get(known.quantity);
    if (first === undefined) {
      found.set(known.quantity, column);
      return;
    }
    const before = several.get(known.quantity) ?? [first];
    const twin = before.find(({ shift }) => shift === known.shift);
    if (twin === undefined) {
      several.set(known.quantity, [...before, column]);
      return;
    }
    faults.push({
      code: 'column-twice',
      file: table.file,
      column: heading,
      message: 'Two columns hold the same quantity.',
      found: `"${twin.heading}" and "${heading}"`,
      expected: 'one of them',
    });
  });
  const numeric = [...found]
    .filter(([quantity]) => !plan.words.includes(quantity) || quantity === 'started_at')
    .flatMap(([quantity, column]) => several.get(quantity) ?? [column])
    .map((column) => column.index);
  const marks = decimalMarks(
    table.rows.flatMap(({ cells }) => numeric.map((index) => cells[index] ?? '')),
  );
  return { table, marks, found, several, unknown };
}

/** The faults of required columns that are not there, each by the headings that it may have. */
export function missingColumns(
  columns: Columns,
  needed: readonly (readonly string[])[],
): ErrorParts[] {
  return needed
    .filter(([name = '']) => !columns.found.has(name.replace('_mW', '')))
    .map((names) => missingColumn(columns, names));
}

/** The fault of a required column that is not there, with the misspelt heading if one looks like it. */
export function missingColumn(columns: Columns, names: readonly string[], why = ''): ErrorParts {
  const misspelt = columns.unknown.find((heading) => didYouMean(heading, names) !== null);
  const only = columns.table.headings.length === 1;
  return {
    code: 'column-missing',
    file: columns.table.file,
    column: names[0] ?? '',
    message: [
      `The column ${either(names)} is missing.`,
      why,
      misspelt === undefined
        ? asked(columns.unknown, names)
        : `"${misspelt}" looks like a misspelling of it.`,
      only ? 'Columns are separated by commas, semicolons or tabs.' : '',
    ]
      .filter((part) => part !== '')
      .join(' '),
    found: `the columns ${columns.table.headings.filter((name) => name !== '').join(', ')}`,
    expected: `a heading ${either(names)} in the first row`,
  };
}

/** Headings in words, and what they may mean: asked, never taken. */
const IN_WORDS: readonly (readonly [RegExp, string])[] = [
  [/wave|wellenl|\bnm\b|colou?r|farbe/i, 'wavelength_nm'],
  [/power|reading|leistung|ablesung|messwert|\bmw\b/i, 'reading_mW'],
  [/^meter\b|instrument|device|ger(?:ä|ae)t/i, 'meter'],
];

function asked(unknown: readonly string[], names: readonly string[]): string {
  const meant = IN_WORDS.find(([, name]) => names.includes(name));
  const heading = meant === undefined ? undefined : unknown.find((one) => meant[0].test(one));
  return meant === undefined || heading === undefined
    ? ''
    : `Is "${heading}" this column? Then call it ${meant[1]}.`;
}

/** A warning for each column that is not read. */
export function unknownColumns(columns: Columns, plan: ColumnPlan): Warning[] {
  const free = headingsOf(plan).filter((name) => {
    const quantity = quantityOf(name, plan)?.quantity;
    return quantity !== undefined && !columns.found.has(quantity);
  });
  return columns.unknown.map((heading) => ({
    code: 'unknown-column',
    message: `${columns.table.file}: the column "${heading}" is not known and was not read.${suggestion(heading, free)}`,
  }));
}
