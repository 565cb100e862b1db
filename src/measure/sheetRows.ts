/** The rows of runs.csv as the bench sees them: planned, measured, left out. */
import { textOf } from '../record/cells.js';
import { METERS } from '../record/meters.js';
import type { MeterRole, Source } from '../vocabulary.js';
import type { Sheet } from './sheet.js';

/** One row, with its texts as they stand in the file. */
export interface SheetRow {
  /** Row as a spreadsheet shows it. */
  readonly row: number;
  /** Name of the series as typed; empty where the table names none. */
  readonly series: string;
  readonly source: string;
  readonly wavelength_nm: number | null;
  readonly filter: string;
  readonly meter: MeterRole | null;
  readonly reading: string;
  readonly unit: string;
  readonly setting: string;
  readonly started: string;
  readonly exclude: string;
  readonly note: string;
}

/** Consecutive rows of one name. */
export interface RowsOfSeries {
  readonly series: string;
  readonly rows: readonly SheetRow[];
}

export function rowsOf(sheet: Sheet, sources: readonly Source[]): readonly SheetRow[] {
  const { columns } = sheet;
  return columns.table.rows.map((row) => {
    const text = (quantity: string) => textOf({ columns, row }, quantity);
    const source =
      text('source') === '' ? sources[0] : sources.find(({ name }) => name === text('source'));
    const own = Number(text('wavelength_nm').replace(',', '.'));
    return {
      row: row.row,
      series: text('series'),
      source: text('source') || (source?.name ?? ''),
      wavelength_nm: own > 0 ? own : (source?.wavelength_nm ?? null),
      filter: text('filter'),
      meter: METERS.find((role) => role === text('meter').toLowerCase()) ?? null,
      reading: text('reading'),
      unit: unitOf(sheet, text('unit')),
      setting: text('setting_nm'),
      started: text('started_at'),
      exclude: text('exclude'),
      note: text('note'),
    };
  });
}

/** The unit that a reading of this row is written in. */
function unitOf({ columns }: Sheet, own: string): string {
  if (columns.found.has('unit')) return own || 'mW';
  const heading = columns.found.get('reading')?.heading ?? '';
  return heading.slice(heading.indexOf('_') + 1).replace(/^u/i, 'µ');
}

/** Rows put together as they stand one below the other. */
export function inSeries(rows: readonly SheetRow[]): readonly RowsOfSeries[] {
  const groups: { series: string; rows: SheetRow[] }[] = [];
  for (const row of rows) {
    const open = groups.at(-1);
    if (open !== undefined && open.series === row.series) open.rows.push(row);
    else groups.push({ series: row.series, rows: [row] });
  }
  return groups;
}

/** The rows of the series that a row belongs to; none where no series has it. */
export const rowsAround = (groups: readonly RowsOfSeries[], row: number): readonly SheetRow[] =>
  groups.find(({ rows }) => rows.some((one) => one.row === row))?.rows ?? [];

/** Whether a row has its reading. */
export const isMeasured = ({ reading }: SheetRow): boolean => reading !== '';

/** What the note of a closed series' last row says. */
export const CLOSED = 'series closed';

export const isClosed = ({ rows }: RowsOfSeries): boolean =>
  rows.every(isMeasured) && rows.some(({ note }) => note.includes(CLOSED));
