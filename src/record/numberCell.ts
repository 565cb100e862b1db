/** A cell of a table as a number, or why it is none. */

export type Separator = ',' | ';' | '\t';

/**
 * What a table shows about its decimal marks. `proven`: at least one number can be read in one way
 * only; `likely`: the mark occurs, but every number with it could carry a thousands separator.
 */
export interface DecimalMarks {
  readonly comma: 'none' | 'likely' | 'proven';
  readonly point: 'none' | 'likely' | 'proven';
}

export type NumberCell =
  | { readonly value: number }
  | { readonly problem: string; readonly expected: string };

const NUMBER = /^([+-]?)(\d+(?:[.,]\d*)?|[.,]\d+)(?:e([+-]?\d{1,4}))?$/i;
const THOUSANDS_LIKE = /^[+-]?[1-9]\d{0,2}[.,]\d{3}$/;
// Far outside anything measured or timed; inside, ratios and squares stay finite.
const LARGEST = 1e15;
const SMALLEST = 1e-15;
const PLAIN = 'a plain number such as 46.2';

/** Which decimal marks the numbers among these cells use. */
export function decimalMarks(cells: Iterable<string>): DecimalMarks {
  const marks: { comma: DecimalMarks['comma']; point: DecimalMarks['point'] } = {
    comma: 'none',
    point: 'none',
  };
  for (const cell of cells) {
    const text = plain(cell);
    if (!NUMBER.test(text)) continue;
    const mark = text.includes(',') ? 'comma' : text.includes('.') ? 'point' : null;
    if (mark === null || marks[mark] === 'proven') continue;
    marks[mark] = THOUSANDS_LIKE.test(text) ? 'likely' : 'proven';
  }
  return marks;
}

/**
 * Reads a number with a decimal point, or with a decimal comma where commas do not separate the
 * columns. A number that could as well carry a thousands separator is refused; in a table separated
 * by semicolons a lone comma is a decimal comma. `shift` moves the decimal point: 3 turns W into mW
 * without a rounding error.
 */
export function numberCell(
  cell: string,
  table: { readonly separator: Separator; readonly marks: DecimalMarks },
  shift = 0,
): NumberCell {
  const text = plain(cell);
  const match = NUMBER.exec(text);
  if (match === null) return { problem: problemWith(text), expected: PLAIN };
  const [, sign = '', digits = '', exponent = '0'] = match;
  if (digits.includes(',') && table.separator === ',') {
    return {
      problem:
        'A comma separates the columns of this file, so it cannot be a decimal mark as well.',
      expected: `${PLAIN}, with a point, or semicolons between the columns`,
    };
  }
  if (THOUSANDS_LIKE.test(text) && readsTwoWays(text, table.separator, table.marks)) {
    return {
      problem: 'This can be read in two ways: with a decimal mark or with a thousands separator.',
      expected: `${PLAIN}, one kind of decimal mark in the whole file and no thousands separator`,
    };
  }
  const value = Number(`${sign}${digits.replace(',', '.')}e${Number(exponent) + shift}`);
  if (Math.abs(value) > LARGEST) return { problem: 'This number is too large.', expected: PLAIN };
  if (value !== 0 && Math.abs(value) < SMALLEST) {
    return { problem: 'This number is too small to have been measured.', expected: PLAIN };
  }
  return { value };
}

function readsTwoWays(text: string, separator: Separator, marks: DecimalMarks): boolean {
  if (marks.comma !== 'none' && marks.point !== 'none') return true;
  return separator === '\t' && text.includes(',') && marks.comma !== 'proven';
}

/** Without surrounding spaces, and with the typographic minus sign as a plain one. */
function plain(cell: string): string {
  return cell.trim().replace(/^\u2212/, '-');
}

function problemWith(text: string): string {
  if (/^[+-]?\d[\d.,]*$/.test(text)) {
    return 'This number carries thousands separators, or two decimal marks.';
  }
  if (/^[+-]?\d{1,3}(?:[\s'’]\d{3})+(?:[.,]\d*)?$/u.test(text)) {
    return 'This number carries thousands separators.';
  }
  if (/^[+-]?[\d.,]+\s*(?:[munkµμ]?w|nm|s|%)$/iu.test(text)) {
    return 'A unit stands in the cell, and not all cells of the column carry one, or not that of the heading.';
  }
  if (/^(?:[<>≤≥]|ol\b|over)/iu.test(text)) {
    return 'The display gave no number here. A run without a number cannot be used; leave its row out and say so in a note.';
  }
  return 'This is not a number.';
}
