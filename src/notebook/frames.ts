import type { DataFrame } from 'danfojs';
import { showHtml } from './display.js';
import { type CellValue, type TableRow, tableHtml } from './tableHtml.js';

/**
 * Records as a data frame: to sort, group and describe them by hand in a notebook.
 *
 * The library behind it takes about a second to load, so it is loaded here and nowhere else.
 *
 * @param rows one record a row, all with the same keys
 */
export async function frameOf(rows: readonly object[]): Promise<DataFrame> {
  const danfo = await quietly(() => import('danfojs'));
  return new danfo.DataFrame(rows.map((row) => ({ ...row })));
}

/** Shows a data frame as a table, with its row names as first column. */
export function showFrame(frame: DataFrame, options: { readonly digits?: number } = {}): void {
  showHtml(tableHtml(frameRows(frame, options)));
}

/**
 * The rows of a data frame as records, for showing; the row names stand under the empty key.
 *
 * @param options.digits significant digits of numbers (default 4)
 */
export function frameRows(
  frame: DataFrame,
  options: { readonly digits?: number } = {},
): readonly TableRow[] {
  const digits = options.digits ?? 4;
  const shown = (value: CellValue): CellValue =>
    typeof value === 'number' ? Number(value.toPrecision(digits)) : value;
  const values = frame.values as readonly (readonly CellValue[])[];
  return values.map((row, index) => ({
    '': String(frame.index[index]),
    ...Object.fromEntries(frame.columns.map((column, place) => [column, shown(row[place])])),
  }));
}

/** The numerical library greets on the console while it loads; that is no part of a document. */
async function quietly<T>(load: () => Promise<T>): Promise<T> {
  const { log, warn, info } = console;
  const hush = () => undefined;
  Object.assign(console, { log: hush, warn: hush, info: hush });
  try {
    return await load();
  } finally {
    Object.assign(console, { log, warn, info });
  }
}
