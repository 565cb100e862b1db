import { escapeHtml } from '../findings/escape.js';
import { NO_NUMBER } from '../findings/formatNumber.js';

/** What a table cell may hold; `null` is shown as a dash. */
export type CellValue = string | number | boolean | null | undefined;

export type TableRow = Readonly<Record<string, CellValue>>;

/**
 * Rows as an HTML table: one row a record, every text escaped, columns of numbers set right.
 *
 * @param rows records with the same keys, which are the headings
 */
export function tableHtml(rows: readonly TableRow[]): string {
  const keys = Object.keys(rows[0] ?? {});
  return gridHtml(
    '',
    keys,
    rows.map((row) => keys.map((key) => text(row[key]))),
    keys.map((key) => side(rows, key)),
  );
}

/** Texts as an HTML table, every one escaped, with a caption where there is one. */
export function gridHtml(
  caption: string,
  heads: readonly string[],
  rows: readonly (readonly string[])[],
  sides: readonly ('left' | 'right')[],
): string {
  const cells = (tag: 'th' | 'td', texts: readonly string[]) =>
    texts
      .map(
        (one, i) =>
          `<${tag} style="text-align:${sides[i]};padding:0.2em 0.7em${tag === 'td' && isWhole(one, sides[i]) ? ';white-space:nowrap' : ''}">${escapeHtml(one)}</${tag}>`,
      )
      .join('');
  const title =
    caption === ''
      ? ''
      : `<caption style="text-align:left;font-weight:bold">${escapeHtml(caption)}</caption>`;
  const body = rows.map((row) => `<tr>${cells('td', row)}</tr>`).join('');
  return `<table style="border-collapse:collapse;font-variant-numeric:tabular-nums">${title}<thead><tr>${cells('th', heads)}</tr></thead><tbody>${body}</tbody></table>`;
}

/** A number with its sign and uncertainty, or a date: not to be parted at the end of a line. */
const isWhole = (text: string, side: 'left' | 'right' | undefined) =>
  side === 'right' || /^\d{4}-\d\d-\d\d$/.test(text);

function side(rows: readonly TableRow[], key: string): 'left' | 'right' {
  const values = rows
    .map((row) => row[key])
    .filter((value) => value !== null && value !== undefined && value !== NO_NUMBER);
  return values.length > 0 && values.every(isNumber) ? 'right' : 'left';
}

/** A number, or the text of one: "0.912 ± 0.011", "3.1 to 4.0", "46 mW". */
function isNumber(value: CellValue): boolean {
  return (
    typeof value === 'number' ||
    (typeof value === 'string' &&
      /\d|∞/.test(value) &&
      /^(?:[\d\s.()±×%∞−⁻⁰¹²³⁴⁵⁶⁷⁸⁹—]|to|mW)+$/.test(value))
  );
}

function text(value: CellValue): string {
  if (value === null || value === undefined) return NO_NUMBER;
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'string') return value;
  return Number.isFinite(value) ? String(value) : NO_NUMBER;
}
