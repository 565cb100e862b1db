/** Numbers in sentences; tables and cards use the formatter of the report stage. */

/** The minus sign of print; a hyphen breaks at the end of a line. */
export const MINUS = '\u2212';

/** A number with so many significant digits, never in scientific notation above 1e-6. */
export function significant(value: number, digits: number): string {
  return String(Number(value.toPrecision(digits))).replace('-', MINUS);
}

/** A fraction as percent with significant digits (default 2): 0.0312 → "3.1 %". */
export function percent(fraction: number, digits = 2): string {
  return `${significant(100 * fraction, digits)} %`;
}
