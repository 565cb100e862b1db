/** CSV text as a table whose rows are numbered as a spreadsheet shows them. */
import Papa from 'papaparse';
import type { ErrorParts } from '../error.js';
import type { Separator } from './numberCell.js';

export interface TableRow {
  /** Row as a spreadsheet shows it, counted from 1. */
  readonly row: number;
  /** Cells without surrounding spaces, as many as the heading has or fewer. */
  readonly cells: readonly string[];
}

export interface Table {
  readonly file: string;
  readonly separator: Separator;
  /** Headings as typed, without surrounding spaces. */
  readonly headings: readonly string[];
  readonly rows: readonly TableRow[];
}

const SEPARATOR_NAMES: Readonly<Record<Separator, string>> = {
  ',': 'commas',
  ';': 'semicolons',
  '\t': 'tabs',
};

/**
 * Reads CSV (RFC 4180) separated by commas, semicolons or tabs; `isKnown` tells known headings,
 * which decide between the separators. Byte-order mark, all line endings, a first line `sep=;`,
 * blank lines (counted as rows) and empty columns at the right are accepted. Faults go to the given
 * list; `null` when there is no table at all.
 */
export function readTable(
  text: string,
  file: string,
  isKnown: (heading: string) => boolean,
  faults: ErrorParts[],
): Table | null {
  const refuse = (parts: Omit<ErrorParts, 'file'>): null => {
    faults.push({ file, ...parts });
    return null;
  };
  const foreign = foreignFormat(text);
  if (foreign !== null) {
    return refuse({
      code: 'csv-invalid',
      message: `This is ${foreign}, not a CSV file.`,
      expected: 'the sheet saved as CSV (in the spreadsheet: Save as, type CSV)',
    });
  }
  let plain = normalLines(text);
  const declared = /^sep=(.)\n/i.exec(plain);
  // Spreadsheets swallow this line, so it is no row.
  if (declared !== null) plain = plain.slice(declared[0].length);
  const separator = isSeparator(declared?.[1]) ? declared[1] : likelySeparator(plain, isKnown);
  const parsed = Papa.parse<string[]>(plain, { delimiter: separator, newline: '\n' });
  const quotes = parsed.errors.find((error) => error.type === 'Quotes');
  if (quotes !== undefined) {
    return refuse({
      code: 'csv-invalid',
      row: (quotes.row ?? 0) + 1,
      message: 'A quotation mark is opened and not closed properly.',
      expected: 'cells without quotation marks, or in pairs of them with nothing outside the pair',
    });
  }
  const rows = parsed.data
    .map((cells, index) => ({ row: index + 1, cells: cells.map(bare) }))
    .filter(({ cells }) => cells.some((cell) => cell !== ''));
  const [heading, ...body] = rows;
  if (heading === undefined) {
    return refuse({
      code: 'no-rows',
      message: 'The file is empty.',
      expected: 'a first row with the names of the columns, and one row a measurement below it',
    });
  }
  const headings = heading.cells;
  for (const { row, cells } of body) {
    const stray = cells.findIndex((cell, index) => cell !== '' && (headings[index] ?? '') === '');
    if (stray === -1) continue;
    faults.push({
      code: 'csv-invalid',
      file,
      row,
      message: `Cell ${stray + 1} stands in no column: the first row has no heading for it.${decimalCommaHint(separator)}`,
      found: `"${cells[stray]}"`,
      expected: `at most ${headings.filter((name) => name !== '').length} cells, separated by ${SEPARATOR_NAMES[separator]}`,
    });
  }
  return { file, separator, headings, rows: body };
}

/** Text without byte-order mark, every line ending as LF. */
export function normalLines(text: string): string {
  const plain = text.startsWith('\uFEFF') ? text.slice(1) : text;
  return plain.includes('\r') ? plain.replace(/\r\n?/g, '\n') : plain;
}

/** A cell without spaces around it, and without quotation marks that stood behind a space. */
function bare(cell: string): string {
  const text = cell.trim();
  return text === cell ? text : (/^"([^"]*)"$/.exec(text)?.[1]?.trim() ?? text);
}

function decimalCommaHint(separator: Separator): string {
  return separator === ','
    ? ' Was a decimal comma taken for a separator? Write 46.2, or put semicolons between the columns.'
    : '';
}

function isSeparator(mark: string | undefined): mark is Separator {
  return mark === ',' || mark === ';' || mark === '\t';
}

/** The separator under which most headings are known; among equals, that of most columns. */
function likelySeparator(text: string, isKnown: (heading: string) => boolean): Separator {
  const first = text.split('\n').find((line) => line.trim() !== '') ?? '';
  const marks: readonly Separator[] = [',', ';', '\t'];
  const ranked = marks.map((mark) => {
    const cells = Papa.parse<string[]>(first, { delimiter: mark }).data[0] ?? [];
    return { mark, known: cells.filter((cell) => isKnown(cell)).length, columns: cells.length };
  });
  ranked.sort((a, b) => b.known - a.known || b.columns - a.columns);
  return ranked[0]?.mark ?? ',';
}

function foreignFormat(text: string): string | null {
  if (text.startsWith('PK\u0003\u0004')) return 'a spreadsheet file (.xlsx or .ods) or an archive';
  // Old spreadsheet files start with the bytes D0 CF 11 E0, which are no valid UTF-8.
  if (text.startsWith('\uFFFD\uFFFD\u0011') || text.startsWith('\u00D0\u00CF\u0011\u00E0')) {
    return 'a spreadsheet file (.xls)';
  }
  if (/^\s*<(?:!doctype|html|\?xml)/i.test(text)) return 'a web page or an XML file';
  if (text.includes('\u0000')) return 'a binary file or text in an unusual encoding';
  return null;
}
