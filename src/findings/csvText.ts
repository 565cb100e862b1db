/** Tables as text for a spreadsheet. */
import Papa from 'papaparse';

/** A cell that a spreadsheet would run as a formula, wide signs included; a plain number is none. */
export const FORMULA = /^(?![+-]?[\d.,]+(?:e[+-]?\d+)?$)[=+\-@\t\r\uff1d\uff0b\uff0d\uff20]/i;

/**
 * CSV (RFC 4180). A cell that a spreadsheet would take for a formula gets an apostrophe in front: the text
 * of a table may come from anybody.
 */
export function csvText(
  headings: readonly string[],
  rows: readonly (readonly string[])[],
  separator: ',' | ';' | '\t' = ',',
): string {
  const text = Papa.unparse(
    { fields: [...headings], data: rows.map((row) => [...row]) },
    { newline: '\n', delimiter: separator, escapeFormulae: FORMULA },
  );
  return `${text}\n`;
}
