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

export function showFrame(frame: DataFrame, options: { readonly digits?: number } = {}): void {
  showHtml(tableHtml(frameRows(frame, options)));
}

/**
 * The rows of a data frame as records, for showing. Row names stand under the empty key, unless they
 * only count the rows.
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
  const named = frame.index.some((name, place) => name !== place);
  return values.map((row, place) => ({
    ...(named ? { '': String(frame.index[place]) } : {}),
    ...Object.fromEntries(frame.columns.map((column, at) => [column, shown(row[at])])),
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
