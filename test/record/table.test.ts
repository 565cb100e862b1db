import { describe, expect, test } from 'vitest';
import type { ErrorParts } from '../../src/error.js';
import { readTable } from '../../src/record/table.js';
import { codesOf, errorOf, studyOf } from './support.js';

const KNOWN = ['meter', 'reading_mW', 'note'];
const read = (text: string) => {
  const faults: ErrorParts[] = [];
  const table = readTable(text, 'runs.csv', (name) => KNOWN.includes(name.trim()), faults);
  return { table, faults };
};

describe('what is accepted', () => {
  const plain = 'meter,reading_mW,note\nreference,46,a\ncandidate,41,\n';
  test.each([
    ['a byte-order mark', `\uFEFF${plain}`],
    ['CRLF', plain.replaceAll('\n', '\r\n')],
    ['CR alone', plain.replaceAll('\n', '\r')],
    ['no line ending at the end', plain.trimEnd()],
    ['blank lines at the end', `${plain}\n\n  \n`],
    ['rows of separators at the end', `${plain},,\n,,\n`],
    ['semicolons', plain.replaceAll(',', ';')],
    ['tabs', plain.replaceAll(',', '\t')],
    ['spaces around cells', plain.replaceAll(',', ' , ')],
    ['quotation marks', plain.replace('reference,46,a', '"reference","46","a"')],
    ['quotation marks behind spaces', plain.replace('reference,46,a', 'reference, "46", "a"')],
    ['a first line that names the separator', `sep=;\n${plain.replaceAll(',', ';')}`],
    ['a short row', plain.replace('candidate,41,', 'candidate,41')],
    ['separators behind the last column', plain.replaceAll('\n', ',,\n')],
  ])('%s', (_, text) => {
    const { table, faults } = read(text);
    expect(faults).toEqual([]);
    expect(table?.headings.filter((heading) => heading !== '')).toEqual(KNOWN);
    expect(table?.rows.map(({ row }) => row)).toEqual([2, 3]);
    expect(table?.rows.map(({ cells }) => KNOWN.map((_name, index) => cells[index] ?? ''))).toEqual(
      [
        ['reference', '46', 'a'],
        ['candidate', '41', ''],
      ],
    );
  });

  test('blank lines between rows are passed over and counted', () => {
    const { table } = read('\nmeter,reading_mW\n\nreference,46\n,\ncandidate,41');
    expect(table?.rows.map(({ row }) => row)).toEqual([4, 6]);
  });

  test('a cell of several lines is one row', () => {
    const { table } = read('meter,reading_mW,note\nreference,46,"hot\r\nhumid"\ncandidate,41,');
    expect(table?.rows.map(({ row }) => row)).toEqual([2, 3]);
    expect(table?.rows[0]?.cells[2]).toBe('hot\nhumid');
  });

  test('a separator inside quotation marks, and a mark inside a cell, are text', () => {
    const { table } = read('meter,reading_mW,note\nreference,46,"a, b"\ncandidate,41,5" lens');
    expect(table?.rows.map(({ cells }) => cells[2])).toEqual(['a, b', '5" lens']);
  });

  test('the known headings decide the separator, not the number of pieces', () => {
    const { table } = read('meter;reading_mW;a,b,c,d,e\nreference;46;');
    expect(table?.separator).toBe(';');
  });
});

describe('what is refused', () => {
  test.each([
    ['a spreadsheet file', 'PK\u0003\u0004\u0014\u0000'],
    ['an old spreadsheet file', '\u00D0\u00CF\u0011\u00E0'],
    ['a web page', '<!DOCTYPE html><html>'],
    ['a binary file', 'm\u0000e\u0000t\u0000'],
  ])('%s', (words, text) => {
    const { table, faults } = read(text);
    expect(table).toBeNull();
    expect(faults).toHaveLength(1);
    expect(faults[0]).toMatchObject({ code: 'csv-invalid', file: 'runs.csv' });
    expect(faults[0]?.message).toContain(words.replace(/^an? (?:old )?/, ''));
    expect(faults[0]?.expected).toContain('saved as CSV');
  });

  test.each(['', '\uFEFF', '\n\n', ',,\n,,'])('an empty file (%j)', (text) => {
    expect(read(text).faults).toMatchObject([{ code: 'no-rows' }]);
  });

  test('a quotation mark that is never closed, with the row where it opens', () => {
    expect(read('meter,reading_mW\nreference,46\ncandidate,"41\n').faults).toMatchObject([
      { code: 'csv-invalid', row: 3 },
    ]);
  });

  test('a cell without a heading, with a hint at the decimal comma', () => {
    const { faults } = read('meter,reading_mW\nreference,46,2\ncandidate,41,8');
    expect(faults.map(({ code, row }) => [code, row])).toEqual([
      ['csv-invalid', 2],
      ['csv-invalid', 3],
    ]);
    expect(faults[0]?.message).toContain('decimal comma');
  });

  test('a heading and no row', () => {
    expect(errorOf(() => studyOf('meter,reading_mW\n\n')).code).toBe('no-rows');
  });
});

describe('decimal marks of a whole table', () => {
  const reads = (separator: string, cells: readonly string[]) => {
    const rows = cells.map((cell, index) =>
      [index % 2 === 0 ? 'reference' : 'candidate', cell].join(separator),
    );
    return studyOf(`meter${separator}reading_mW\n${rows.join('\n')}`);
  };
  const values = (separator: string, cells: readonly string[]) =>
    reads(separator, cells).series[0]?.runs.map((run) => run.reading_mW);

  test.each([
    ['a German spreadsheet', ';', ['46,2', '41,8'], [46.2, 41.8]],
    ['three decimals after a comma between semicolons', ';', ['1,234', '1,200'], [1.234, 1.2]],
    ['points between semicolons', ';', ['46.2', '41.8'], [46.2, 41.8]],
    [
      'a decimal comma between tabs that can be nothing else',
      '\t',
      ['46,2', '1,234'],
      [46.2, 1.234],
    ],
    ['powers of ten', ',', ['4.62e1', '418E-1'], [46.2, 41.8]],
    ['no digit on one side of the point', ',', ['.5', '5.'], [0.5, 5]],
    ['a plus sign and leading zeros', ',', ['+46.2', '041.8'], [46.2, 41.8]],
  ])('%s', (_, separator, cells, expected) => {
    expect(values(separator, cells)).toEqual(expected);
  });

  test('a typographic minus sign is a minus sign', () => {
    const study = studyOf('meter,reading_mW,zero_mW\nreference,5,\u22120.5\ncandidate,4,');
    expect(study.series[0]?.runs[0]?.reading_mW).toBe(5.5);
  });

  test.each([
    ['thousands with a point', ';', '1.234,5', 'thousands'],
    ['thousands with a comma', ';', '1,234.5', 'thousands'],
    ['thousands with a space', ',', '1 234', 'carries thousands separators.'],
    ['thousands with an apostrophe and a sign', ',', "+1'234.5", 'carries thousands separators.'],
    ['such a number and more', ',', '1 234 or so', 'not a number'],
    ['a comma between commas', ',', '"1,234"', 'comma separates'],
    ['a lone comma between tabs that may be either', '\t', '1,234', 'two ways'],
    ['another unit in one cell', ',', '0.0462 W', 'unit'],
    ['an overrange mark', ',', 'OL', 'no number'],
    ['a bound', ',', '<0.1', 'no number'],
    ['a hexadecimal number', ',', '0x10', 'not a number'],
    ['a word', ',', 'NaN', 'not a number'],
    ['infinity', ',', 'Infinity', 'not a number'],
    ['a spreadsheet fault', ',', '#DIV/0!', 'not a number'],
    ['too large a number', ',', '1e400', 'too large'],
    ['too small a number', ',', '1e-300', 'too small'],
    ['two numbers', ',', '46.2-46.4', 'not a number'],
  ])('%s is refused', (_, separator, cell, words) => {
    const error = errorOf(() => reads(separator, ['46', cell]));
    expect(error).toMatchObject({
      code: 'cell-not-a-number',
      file: 'runs.csv',
      row: 3,
      column: 'reading_mW',
      found: `"${cell.replaceAll('"', '')}"`,
    });
    expect(error.message).toContain(words);
    expect(error.expected).toContain('46.2');
  });

  test('a number that could carry thousands is refused where both marks occur', () => {
    const error = errorOf(() => reads(';', ['46,2', '1.234']));
    expect(error).toMatchObject({ code: 'cell-not-a-number', row: 3 });
    expect(error.message).toContain('two ways');
    expect(errorOf(() => reads(';', ['46.2', '1,234'])).row).toBe(3);
  });

  test('points that might be thousands all over a semicolon table are warned of', () => {
    const study = reads(';', ['1.234', '1.200']);
    expect(study.series[0]?.runs[0]?.reading_mW).toBe(1.234);
    expect(codesOf(study)).toContain('decimal-point-assumed');
    expect(codesOf(reads(',', ['1.234', '1.200']))).not.toContain('decimal-point-assumed');
    expect(codesOf(reads(';', ['1.234', '1.2']))).not.toContain('decimal-point-assumed');
  });
});
