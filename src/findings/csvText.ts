/** Tables as CSV that a spreadsheet can open without running anything. */
import { withoutControls } from './escape.js';

/** What a table cell may hold; `null` is shown as a dash, and is an empty cell in a file. */
export type CellValue = string | number | boolean | null | undefined;

export type TableRow = Readonly<Record<string, CellValue>>;

/** A number as people and programs write it, with a sign or without. */
const PLAIN_NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;

/** What makes a spreadsheet read a cell as a formula, the wide forms of East Asian keyboards included. */
const FORMULA = /^[=+\-@\t\r\n\uff1d\uff0b\uff0d\uff20]/;

/**
 * Records as CSV (RFC 4180): comma, CRLF, quotation marks where they are needed, a first line of
 * names, and a byte-order mark so that spreadsheets read it as UTF-8.
 *
 * A text that a spreadsheet would read as a formula gets an apostrophe in front; plain numbers stay.
 *
 * @param rows records; the columns are the keys of all of them, in the order in which they appear
 */
export function csvText(rows: readonly TableRow[]): string {
  const columns = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  const lines = [columns, ...rows.map((row) => columns.map((column) => row[column]))];
  return `\ufeff${lines.map((cells) => `${cells.map(cellText).join(',')}\r\n`).join('')}`;
}

/** One cell, harmless and quoted. */
export function cellText(value: CellValue): string {
  const raw = value === null || value === undefined ? '' : String(value);
  const text = withoutControls(raw);
  const harmful = (FORMULA.test(raw) || FORMULA.test(text)) && !PLAIN_NUMBER.test(raw);
  const safe = harmful ? `'${text}` : text;
  return /[",]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
