/** Cells of a table one by one: numbers, marks, moments, units, headings, each bound from both sides. */
import { describe, expect, test } from 'vitest';
import type { ErrorParts } from '../../src/error.js';
import {
  headingOf,
  numberOf,
  refuse,
  requiredNumberOf,
  textOf,
  wordFault,
} from '../../src/record/cells.js';
import { findColumns, headingsOf, quantityOf, unitShift } from '../../src/record/columns.js';
import { moment } from '../../src/record/moment.js';
import { decimalMarks, numberCell, type Separator } from '../../src/record/numberCell.js';
import { readTable } from '../../src/record/table.js';

const PLAIN = { comma: 'none', point: 'none' } as const;
const value = (text: string, separator: Separator = ';', marks: object = PLAIN, shift = 0) => {
  const cell = numberCell(text, { separator, marks: { ...PLAIN, ...marks } }, shift);
  return 'value' in cell ? cell.value : cell.problem;
};

describe('a number in a cell', () => {
  test.each([
    ['46.2', 46.2],
    [' 46.2 ', 46.2],
    ['46,2', 46.2],
    ['-0.1', -0.1],
    ['\u22120.1', -0.1],
    ['+5', 5],
    ['.5', 0.5],
    [',5', 0.5],
    ['5.', 5],
    ['1e3', 1000],
    ['1.5E-2', 0.015],
    ['0', 0],
    ['0.0', 0],
    ['1e15', 1e15],
    ['-1e15', -1e15],
    ['1e-15', 1e-15],
    ['-1e-15', -1e-15],
    ['46200', 46200],
    ['0.123', 0.123],
    ['0,123', 0.123],
  ])('"%s" is %d', (text, expected) => {
    expect(value(text)).toBe(expected);
  });

  test.each([
    ['1.01e15', 'too large'],
    ['-1.01e15', 'too large'],
    ['1e9999', 'too large'],
    ['0.99e-15', 'too small'],
    ['-0.99e-15', 'too small'],
    ['1.234.567', 'thousands separators, or two'],
    ['1,2,3', 'thousands separators, or two'],
    ['1.234,5', 'thousands separators, or two'],
    ['12 345', 'carries thousands separators.'],
    ['1’234', 'carries thousands separators.'],
    ["1'234.5", 'carries thousands separators.'],
    ['12 34', 'This is not a number'],
    ['46.2 mW', 'A unit stands in the cell'],
    ['46.2w', 'A unit stands in the cell'],
    ['46.2 µW', 'A unit stands in the cell'],
    ['520 nm', 'A unit stands in the cell'],
    ['3 s', 'A unit stands in the cell'],
    ['3 %', 'A unit stands in the cell'],
    ['46.2 V', 'This is not a number'],
    ['OL', 'The display gave no number'],
    ['olive', 'This is not a number'],
    ['over', 'The display gave no number'],
    ['>5', 'The display gave no number'],
    ['≤5', 'The display gave no number'],
    ['', 'This is not a number'],
    ['--5', 'This is not a number'],
    ['1e12345', 'This is not a number'],
    ['e3', 'This is not a number'],
  ])('"%s" is none: %s', (text, problem) => {
    expect(value(text)).toContain(problem);
  });

  test('a comma is no decimal mark where it separates the columns', () => {
    expect(value('46,2', ',')).toContain('A comma separates the columns');
    expect(value('46.2', ',')).toBe(46.2);
    expect([value('46,2', ';'), value('46,2', '\t')]).toEqual([46.2, 46.2]);
  });

  test.each<[string, Separator, object, number | string]>([
    // Between semicolons and commas a lone mark is a decimal mark
    ['1.234', ';', {}, 1.234],
    ['1,234', ';', {}, 1.234],
    ['1.234', ',', {}, 1.234],
    // Both marks in one file: one of them separates thousands
    ['1.234', ';', { comma: 'likely', point: 'likely' }, 'in two ways'],
    ['1,234', ';', { comma: 'proven', point: 'likely' }, 'in two ways'],
    ['1.234', ';', { comma: 'none', point: 'proven' }, 1.234],
    // Nothing but its form makes it doubtful: 0.234 and 1234.567 carry no thousands separator
    ['0.234', ';', { comma: 'likely', point: 'likely' }, 0.234],
    ['1234.567', ';', { comma: 'likely', point: 'likely' }, 1234.567],
    ['1.2345', ';', { comma: 'likely', point: 'likely' }, 1.2345],
    // Between tabs a comma has to be proven
    ['1,234', '\t', { comma: 'likely' }, 'in two ways'],
    ['1,234', '\t', { comma: 'proven' }, 1.234],
    ['1.234', '\t', { point: 'likely' }, 1.234],
    ['12,34', '\t', { comma: 'likely' }, 12.34],
  ])('%s between "%s" with the marks %j: %s', (text, separator, marks, expected) => {
    const found = value(text, separator, marks);
    if (typeof expected === 'number') expect(found).toBe(expected);
    else expect(found).toContain(expected);
  });

  test('the point moves on the digits', () => {
    expect(value('0.0462', ',', {}, 3)).toBe(46.2);
    expect(value('46200', ',', {}, -3)).toBe(46.2);
    expect(value('4.62e1', ',', {}, -1)).toBe(4.62);
    // The limits are those of the number in mW
    expect(value('2e12', ',', {}, 3)).toContain('too large');
    expect(value('1e-13', ',', {}, -3)).toContain('too small');
  });
});

test.each([
  [[], 'none', 'none'],
  [['46', 'x', ''], 'none', 'none'],
  [['46.2'], 'none', 'proven'],
  [['1.234'], 'none', 'likely'],
  [['1.234', '46.2'], 'none', 'proven'],
  [['46.2', '1.234'], 'none', 'proven'],
  [['46,2'], 'proven', 'none'],
  [['1,234', '46.2'], 'likely', 'proven'],
  [['0.234'], 'none', 'proven'],
  [['1,234,567', '1.2.3'], 'none', 'none'],
])('cells %j show a comma: %s, a point: %s', (cells, comma, point) => {
  expect(decimalMarks(cells)).toEqual({ comma, point });
});

describe('a moment', () => {
  const of = (text: string) => moment(text, numberCell(text, { separator: ',', marks: PLAIN }));
  const day = Date.UTC(2024, 4, 1) / 1000;

  test.each([
    ['75.5', 'seconds', 75.5, null],
    ['-3', 'seconds', -3, null],
    ['0:00:00', 'time of day', 0, null],
    ['T10:31:20', 'time of day', 37_880, null],
    ['23:59:59.5', 'time of day', 86_399.5, null],
    ['2024-05-01T00:00', 'date and time', day, '2024-05-01'],
    ['2024-05-01 10:31:20,5', 'date and time', day + 37_880.5, '2024-05-01'],
    ['2024-05-01t10:31:20z', 'date and time with zone', day + 37_880, '2024-05-01'],
    ['2024-05-01T10:31:20+01', 'date and time with zone', day + 34_280, '2024-05-01'],
    ['2024-05-01T10:31:20+0130', 'date and time with zone', day + 32_480, '2024-05-01'],
    ['2024-05-01T10:31:20-01:30', 'date and time with zone', day + 43_280, '2024-05-01'],
    ['2024-05-01T10:31:20+23:59', 'date and time with zone', day + 37_880 - 86_340, '2024-05-01'],
    ['2024-02-29T00:00', 'date and time', day - 62 * 86_400, '2024-02-29'],
  ])('"%s" is %s, %d s', (text, kind, seconds, on) => {
    expect(of(text)).toEqual({ kind, seconds, day: on });
  });

  test.each([
    '24:00:00',
    '10:60:00',
    '10:31:60',
    '10:31',
    'x10:31:20',
    '10:31:20x',
    '2024-05-01T24:00',
    '2024-05-01T10:60',
    '2024-05-01T10:31:60',
    '2024-04-31T10:31',
    '2023-02-29T10:31',
    '2024-05-01T10:31+24:00',
    '2024-05-01T10:31+01:60',
    '2024-05-01T10:31+1',
    '2024-05-01',
    'x2024-05-01T10:31',
    '2024-05-01T10:31x',
  ])('"%s" is none', (text) => {
    expect(of(text)).toBeNull();
  });
});

describe('headings', () => {
  const PLAN = {
    byRow: ['zero'],
    powers: ['reading', 'peak'],
    numbers: ['wavelength_nm'],
    words: ['meter', 'unit', 'started_at'],
  };

  test.each([
    ['mW', 0],
    [' MW ', 0],
    ['W', 3],
    ['uW', -3],
    ['µW', -3],
    ['μw', -3],
    ['kW', null],
    ['', null],
  ])('"%s" moves the point by %d places', (unit, places) => {
    expect(unitShift(unit)).toBe(places);
  });

  test.each([
    ['zero', { quantity: 'zero', shift: 'row' }],
    ['Wavelength_NM', { quantity: 'wavelength_nm', shift: 0 }],
    [' meter ', { quantity: 'meter', shift: 0 }],
    ['reading_mW', { quantity: 'reading', shift: 0 }],
    ['PEAK_W', { quantity: 'peak', shift: 3 }],
    ['reading_µW', { quantity: 'reading', shift: -3 }],
    ['reading', null],
    ['reading_kW', null],
    ['zero_mW', null],
    ['colour', null],
  ])('%s stands for %j', (heading, expected) => {
    expect(quantityOf(heading, PLAN)).toEqual(expected);
  });

  test('are written as the guide has them', () => {
    expect(headingsOf(PLAN)).toEqual([
      'meter',
      'unit',
      'started_at',
      'zero',
      'reading_mW',
      'reading_W',
      'reading_uW',
      'peak_mW',
      'peak_W',
      'peak_uW',
      'wavelength_nm',
    ]);
    expect(headingsOf({ powers: [], numbers: ['a'], words: ['b'] })).toEqual(['b', 'a']);
  });

  const columns = (text: string) => {
    const faults: ErrorParts[] = [];
    const known = (heading: string) => quantityOf(heading, PLAN) !== null;
    const table = readTable(text, 'runs.csv', known, [])!;
    return { columns: findColumns(table, PLAN, faults), faults };
  };

  test('each has its column; what fits nothing is unknown, an empty one is nothing', () => {
    const { columns: found, faults } = columns('meter,,colour,reading_W\nreference,,green,0.05\n');
    expect(faults).toEqual([]);
    expect([...found.found]).toEqual([
      ['meter', { index: 0, heading: 'meter', shift: 0 }],
      ['reading', { index: 3, heading: 'reading_W', shift: 3 }],
    ]);
    expect(found.unknown).toEqual(['colour']);
    expect([...found.several]).toEqual([]);
  });

  test('a power may stand under several units, any quantity twice in one is a fault', () => {
    const { columns: found, faults } = columns(
      'reading_mW,reading_W,reading_uW,Reading_w,meter,METER\n',
    );
    expect([...found.several]).toEqual([
      [
        'reading',
        [
          { index: 0, heading: 'reading_mW', shift: 0 },
          { index: 1, heading: 'reading_W', shift: 3 },
          { index: 2, heading: 'reading_uW', shift: -3 },
        ],
      ],
    ]);
    const twice = { code: 'column-twice', file: 'runs.csv', expected: 'one of them' };
    const message = 'Two columns hold the same quantity.';
    expect(faults).toEqual([
      { ...twice, message, column: 'Reading_w', found: '"reading_W" and "Reading_w"' },
      { ...twice, message, column: 'METER', found: '"meter" and "METER"' },
    ]);
  });

  test('decimal marks are those of numbers and times, in every column of a power', () => {
    const marks = (text: string) => columns(text).columns.marks;
    expect(marks('reading_mW;meter\n46.2;1,5\n')).toEqual({ comma: 'none', point: 'proven' });
    expect(marks('reading_mW;reading_W\n46.2;\n;0,04\n')).toEqual({
      comma: 'proven',
      point: 'proven',
    });
    expect(marks('meter;started_at\nreference;7,5\n').comma).toBe('proven');
    expect(marks('reading_mW;colour\n46;1,5\n').comma).toBe('none');
  });
});

describe('the cell of a quantity', () => {
  const PLAN = { powers: ['reading'], numbers: ['wavelength_nm'], words: ['meter', 'unit'] };
  const table = readTable(
    'meter,reading_mW,reading_W\nreference,46.2,\ncandidate,,0.0418\nreference,46.2,0.05\ncandidate,,\nreference,x,\ncandidate\n',
    'runs.csv',
    (heading) => quantityOf(heading, PLAN) !== null,
    [],
  )!;
  const columns = findColumns(table, PLAN, []);
  const [mW, W, both, none, word, short] = table.rows;

  test('is that of the column which the row fills, or of the first', () => {
    expect(
      [mW, W, both, none, short].map((row) => textOf({ columns, row: row! }, 'reading')),
    ).toEqual(['46.2', '0.0418', '46.2', '', '']);
    expect([mW, W, none].map((row) => headingOf({ columns, row: row! }, 'reading'))).toEqual([
      'reading_mW',
      'reading_W',
      'reading_mW',
    ]);
    expect([
      textOf({ columns, row: mW! }, 'zero'),
      headingOf({ columns, row: {} }, 'zero'),
    ]).toEqual(['', 'zero']);
    expect(headingOf({ columns, row: {} }, 'reading')).toBe('reading_mW');
  });

  test('gives its number in mW, or a fault with its place', () => {
    const of = (row: (typeof table.rows)[number]) => {
      const faults: ErrorParts[] = [];
      return [numberOf({ columns, row, faults }, 'reading'), faults];
    };
    expect([of(mW!), of(W!), of(none!)]).toEqual([
      [46.2, []],
      [41.8, []],
      [null, []],
    ]);
    expect(of(both!)).toEqual([
      null,
      [
        {
          code: 'row-inconsistent',
          file: 'runs.csv',
          row: 4,
          column: 'reading_mW and reading_W',
          message: 'The same quantity stands here under more than one unit.',
          found: 'reading_mW "46.2" and reading_W "0.05"',
          expected: 'one of these cells filled, and the other empty',
        },
      ],
    ]);
    expect(of(word!)).toEqual([
      null,
      [
        {
          code: 'cell-not-a-number',
          file: 'runs.csv',
          row: 6,
          column: 'reading_mW',
          message: 'This is not a number.',
          found: '"x"',
          expected: 'a plain number such as 46.2',
        },
      ],
    ]);
  });

  test('that is needed and empty is a fault; a column that is not there is none of the row', () => {
    const of = (quantity: string) => {
      const faults: ErrorParts[] = [];
      return [requiredNumberOf({ columns, row: none!, faults }, quantity), faults];
    };
    expect(of('wavelength_nm')).toEqual([null, []]);
    expect(of('reading')).toEqual([
      null,
      [
        {
          code: 'cell-missing',
          file: 'runs.csv',
          row: 5,
          column: 'reading_mW',
          message: 'The cell is empty.',
          expected: 'a number, or the row left out if nothing was measured',
        },
      ],
    ]);
  });

  test('that should be a word is missing or unknown', () => {
    const said = { empty: 'nothing there', unknown: () => 'what is it' };
    expect(wordFault('', said)).toEqual({ code: 'cell-missing', message: 'nothing there' });
    expect(wordFault('x', said)).toEqual({
      code: 'cell-unknown-word',
      message: 'what is it',
      found: '"x"',
    });
    const faults: ErrorParts[] = [];
    expect(refuse({ columns, row: { row: 9 }, faults }, 'meter', wordFault('', said))).toBeNull();
    expect(faults).toEqual([
      {
        code: 'cell-missing',
        message: 'nothing there',
        file: 'runs.csv',
        row: 9,
        column: 'meter',
      },
    ]);
  });

  test('in a unit by row follows the unit of its row; one that is none says so elsewhere', () => {
    const plan = { ...PLAN, powers: [], byRow: ['reading'] };
    const byRow = readTable(
      'reading,unit\n46.2,mW\n0.0418,W\n46200,µW\n46,\n46,V\n',
      'runs.csv',
      () => true,
      [],
    )!;
    const found = findColumns(byRow, plan, []);
    const faults: ErrorParts[] = [];
    expect(byRow.rows.map((row) => numberOf({ columns: found, row, faults }, 'reading'))).toEqual([
      46.2,
      41.8,
      46.2,
      null,
      null,
    ]);
    expect(faults).toEqual([]);
  });
});
