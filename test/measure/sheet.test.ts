import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  harmless,
  numberText,
  sheetOf,
  withCells,
  withRowsBelow,
} from '../../src/measure/sheet.js';
import { errorOf } from '../record/support.js';

const PLAIN = 'meter,reading_mW,note\nreference,46.2,\ncandidate,,\n';

describe('a cell that is put in', () => {
  test('changes its row alone', () => {
    expect(withCells(sheetOf(PLAIN), 3, { reading: '41.8' })).toBe(
      'meter,reading_mW,note\nreference,46.2,\ncandidate,41.8,\n',
    );
  });

  test('makes a heading where there is none', () => {
    expect(withCells(sheetOf(PLAIN), 3, { checked: 'yes' })).toBe(
      'meter,reading_mW,note,checked\nreference,46.2,\ncandidate,,,yes\n',
    );
  });

  test('is quoted where it has to be', () => {
    const text = withCells(sheetOf(PLAIN), 2, { note: 'a, "b"' });
    expect(text).toContain('reference,46.2,"a, ""b"""\n');
  });

  // Awkward files: what a spreadsheet wrote, a missing line end, quotation marks over two lines.
  test.each([
    ['Windows line ends', PLAIN.replaceAll('\n', '\r\n')],
    ['byte-order mark', `\uFEFF${PLAIN}`],
    ['a line sep=;', `sep=;\r\n${PLAIN.replaceAll(',', ';').replaceAll('\n', '\r\n')}`],
    ['a quoted line break', 'meter,reading_mW,note\nreference,46.2,"two\nlines"\ncandidate,,\n'],
    ['blank lines', 'meter,reading_mW,note\nreference,46.2,\n\ncandidate,,\n'],
    ['tabs', PLAIN.replaceAll(',', '\t')],
    ['µW in the heading', 'meter,reading_µW\nreference,46.2\ncandidate,\n'],
  ])('leaves everything else as it is: %s', (_, text) => {
    const sheet = sheetOf(text);
    const row = sheet.columns.table.rows.at(-1)!.row;
    const after = withCells(sheet, row, { reading: '7' });
    const taken = sheetOf(after).columns.table.rows.at(-1)!.cells;
    expect(taken.slice(0, 2)).toEqual(['candidate', '7']);
    expect(after.replace('7', '')).toBe(text);
  });

  test('whatever the notes say, the other rows keep their bytes', () => {
    const cell = fc.string({ unit: 'grapheme', maxLength: 8 }).filter((s) => !s.includes('\r'));
    fc.assert(
      fc.property(fc.array(cell, { minLength: 1, maxLength: 5 }), fc.nat(), (notes, pick) => {
        const quoted = notes.map((note) => `reference,46.2,"${note.replaceAll('"', '""')}"`);
        const text = `meter,reading_mW,note\n${quoted.join('\n')}\n`;
        const row = 2 + (pick % notes.length);
        const after = withCells(sheetOf(text), row, { reading: '7' });
        const kept = quoted.filter((_, index) => index !== row - 2);
        for (const line of kept) expect(after).toContain(`${line}\n`);
        const cells = sheetOf(after).columns.table.rows.map(({ cells: own }) => own);
        expect(cells[row - 2]![1]).toBe('7');
        expect(cells.length).toBe(notes.length);
      }),
      { seed: 7, numRuns: 200 },
    );
  });

  test('a last line without its end gets one', () => {
    expect(withCells(sheetOf(PLAIN.trimEnd()), 3, { reading: '41.8' }).endsWith('41.8,\n')).toBe(
      true,
    );
  });
});

test('rows are put in below a row', () => {
  expect(withRowsBelow(sheetOf(PLAIN), 2, [{ meter: 'candidate', note: 'x' }])).toBe(
    'meter,reading_mW,note\nreference,46.2,\ncandidate,,x\ncandidate,,\n',
  );
});

test('one row a lap is refused, because a run has no row there', () => {
  const error = errorOf(() => sheetOf('reference_mW,candidate_mW\n46.2,41.8\n'));
  expect(error.message).toContain('one row a lap');
});

test.each([
  ['=1+1', "'=1+1"],
  ['@cmd', "'@cmd"],
  ['-cmd', "'-cmd"],
  ['  +x ', "'+x"],
  ['\u0007=x', "'=x"],
  ['two\nlines', 'two lines'],
  ['knocked head', 'knocked head'],
])('words for a cell: %j', (typed, cell) => {
  expect(harmless(typed)).toBe(cell);
});

test.each([
  ['46,2', PLAIN, '46.2'],
  ['46.2', PLAIN.replaceAll(',', ';').replace('46.2', '46,2'), '46,2'],
  ['46,2', PLAIN.replaceAll(',', ';'), '46.2'],
])('a number typed as %s takes the decimal mark of the table', (typed, text, cell) => {
  expect(numberText(sheetOf(text), typed)).toBe(cell);
});
