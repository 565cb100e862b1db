/** Texts that people type and see: JSON with a slip, faults in one message, forms that do not fit. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { z } from 'zod';
import type { ErrorParts } from '../../src/error.js';
import { quoted, throwFaults, whileShown } from '../../src/record/faults.js';
import { fileText } from '../../src/record/fileText.js';
import { finiteJson } from '../../src/record/finiteJson.js';
import { jsonValue } from '../../src/record/jsonText.js';
import { splitMeasured } from '../../src/record/notYetMeasured.js';
import { codeOf, regularFile, unreadable } from '../../src/record/regularFile.js';
import { runEntries } from '../../src/record/runEntries.js';
import { fieldName, shapeFaults, unknownFields } from '../../src/record/shapeFaults.js';
import { studyDate } from '../../src/record/studyDate.js';
import { checkedSettings } from '../../src/record/studySettings.js';
import { readTable } from '../../src/record/table.js';
import type { Warning } from '../../src/vocabulary.js';
import { codesOf, errorLater, errorOf, faultsOf, PLAIN, studyOf, TIDY } from './support.js';

describe('JSON with a slip', () => {
  const faultOf = (text: string) => {
    const faults: ErrorParts[] = [];
    jsonValue(text, { code: 'study-json-invalid', file: 'study.json' }, faults);
    const [fault] = faults;
    return [fault?.message.replace(/^.*line (\d+), column (\d+): /, '$1:$2 '), fault?.found];
  };
  const COMMENT = 'JSON has no comments; delete this one.';
  const NAME = 'a name in double quotation marks should stand here';
  const VALUE =
    'a value should stand here: a number, true, false, null, or text in double quotation marks.';

  test.each([
    // Where a name should stand
    ['{', '1:2 the text ends too early; a closing } is missing.', 'the end of the file'],
    ['{ ‘a’: 1 }', '1:3 names need straight double quotation marks (").', '‘a’: 1 }'],
    ['{ a: 1 }', `1:3 ${NAME}.`, 'a: 1 }'],
    ['{ "a": 1, b: 2 }', `1:11 ${NAME} after the comma.`, 'b: 2 }'],
    ['{ # a', `1:3 ${COMMENT}`, '# a'],
    ['{ , "a": 1 }', '1:3 a comma too many.', ', "a": 1 }'],
    // Between two values
    ['[1', '1:3 the text ends too early; a closing ] is missing.', 'the end of the file'],
    ['[1 /* x */]', `1:4 ${COMMENT}`, '/* x */]'],
    ['[1 "a"]', '1:4 a comma is missing before this.', '"a"]'],
    ['[1 µW]', '1:4 a unit or word stands behind a value; the unit belongs in the name.', 'µW]'],
    ['[1 2]', '1:4 a comma or a closing ] is missing.', '2]'],
    ['[1,]', '1:4 a comma too many stands before this closing ].', ']'],
    ['[1}', '1:3 a comma or a closing ] is missing.', '}'],
    // Where a value should stand
    ['{ "a":', '1:7 the text ends too early; a value is missing.', 'the end of the file'],
    ['["a", ”b”]', '1:7 texts need straight double quotation marks (").', '”b”]'],
    ['[+1]', '1:2 a number needs a digit in front of the point and no plus sign.', '+1]'],
    ['[.5]', '1:2 a number needs a digit in front of the point and no plus sign.', '.5]'],
    ['[// x\n1]', `1:2 ${COMMENT}`, '// x'],
    ['[,1]', '1:2 a value is missing, or a comma is too many.', ',1]'],
    ['{ "a": }', '1:8 a value is missing, or a comma is too many.', '}'],
    ['[NULL]', '1:2 write true, false and null in small letters.', 'NULL]'],
    ['[None]', '1:2 write true, false and null in small letters.', 'None]'],
    ['[x]', `1:2 ${VALUE}`, 'x]'],
    // In a text
    [
      '["a\tb"]',
      '1:4 a text in quotation marks runs over the end of the line or holds a tab.',
      '\tb"]',
    ],
    ['["\\x"]', '1:3 a backslash has to be written twice inside quotation marks (\\\\).', '\\x"]'],
    [
      '["\\u12g4"]',
      '1:3 a backslash has to be written twice inside quotation marks (\\\\).',
      '\\u12g4"]',
    ],
    // Behind all
    ['{}\n x', '2:2 something stands after the end of the JSON text.', 'x'],
    [
      `{} ${'x'.repeat(50)}`,
      '1:4 something stands after the end of the JSON text.',
      'x'.repeat(40),
    ],
  ])('%j: %s', (text, message, found) => {
    expect(faultOf(text)).toEqual([message, found]);
  });

  test('200 brackets are followed, and no more', () => {
    const nested = (n: number) => faultOf(`${'['.repeat(n)}${']'.repeat(n)}`)[0];
    expect([nested(201), nested(202)]).toEqual([
      undefined,
      expect.stringContaining('brackets are nested too deep'),
    ]);
  });

  test('texts with every escape there is are read', () => {
    const faults: ErrorParts[] = [];
    const text = '["\\"\\\\\\/\\b\\f\\n\\r\\t\\u00fC"]';
    expect(jsonValue(text, { code: 'study-json-invalid', file: 'x' }, faults)).toEqual([
      '"\\/\b\f\n\r\tü',
    ]);
    expect(faults).toEqual([]);
  });
});

describe('faults in one message', () => {
  const list = (n: number): ErrorParts[] =>
    Array.from({ length: n }, (_, i) => ({ code: 'csv-invalid', message: `fault ${i + 1}` }));
  const thrown = (n: number) => faultsOf(errorOf(() => throwFaults(list(n))));

  test('ten are shown, and the rest are counted', () => {
    expect(() => throwFaults([])).not.toThrow();
    expect([1, 10, 11, 12].map((n) => thrown(n).length)).toEqual([1, 10, 11, 11]);
    expect(thrown(10).at(-1)?.message).toBe('fault 10');
    expect(thrown(11).at(-1)).toEqual({
      code: 'csv-invalid',
      message: '1 more fault is not shown; mend these first.',
    });
    expect(thrown(12).at(-1)?.message).toBe('2 more faults are not shown; mend these first.');
  });

  test('what is dear to say is said of the first ten', () => {
    expect([9, 10].map((n) => whileShown(list(n), () => 'dear'))).toEqual(['dear', '']);
  });

  test.each([
    [undefined, 'nothing'],
    [null, 'null'],
    ['a', '"a"'],
    [Number.NaN, 'NaN'],
    [1.5, '1.5'],
    [7n, '7'],
    [() => 1, 'a function'],
    [Symbol('x'), 'a symbol'],
    [[1, 'a'], '[1,"a"]'],
    [{ a: 7n }, 'a object'],
    ['x'.repeat(78), `"${'x'.repeat(78)}"`],
    ['x'.repeat(79), `"${'x'.repeat(76)}…`],
  ])('%s is quoted as %s', (value, expected) => {
    expect(quoted(value)).toBe(expected);
  });
});

describe('a form that does not fit', () => {
  const schema = z.object({
    name: z.string('a text'),
    size: z.number('a number above 0').positive('a number above 0'),
    list: z.array(z.object({ length: z.number('a wavelength in nm') }), 'a list').optional(),
  });
  const PLACE = { code: 'study-field-wrong', file: 'x.json' } as const;
  const of = (input: unknown) =>
    shapeFaults(schema.safeParse(input).error?.issues ?? [], schema, input, PLACE);

  test('names the field, what was found and what would be right', () => {
    expect(of({ name: 5, list: [{ length: 520 }, { length: '520' }] })).toEqual([
      { ...PLACE, message: '"name" is not right.', found: '5', expected: 'a text' },
      { ...PLACE, message: '"size" is missing.', expected: 'a number above 0' },
      {
        ...PLACE,
        message: '"list, entry 2, length" is not right. Numbers stand without quotation marks.',
        found: '"520"',
        expected: 'a wavelength in nm',
      },
    ]);
    expect(of(7)).toMatchObject([{ message: 'The content is not of the right kind.', found: '7' }]);
    // A field that stands there as null is not missing
    expect(of({ name: null, size: 1 })).toMatchObject([
      { message: '"name" is not right.', found: 'null' },
    ]);
  });

  test.each([
    ['5', true],
    [' +5,5 % ', true],
    ['five', false],
    ['5 mW', false],
    ['', false],
  ])('"%s" in place of a number is a number in quotation marks: %s', (size, said) => {
    expect(of({ name: 'a', size })[0]?.message.includes('without quotation marks')).toBe(said);
  });

  test('points at the field that looks like the one that is missing, at its own place alone', () => {
    const hint = (input: object) => of({ name: 'a', size: 1, ...input })[0]?.message;
    expect(of({ name: 'a', sise: 1 })[0]?.message).toBe(
      '"size" is missing. "sise" looks like a misspelling of it.',
    );
    expect(of({ name: 'a', colour: 1 })[0]?.message).toBe('"size" is missing.');
    expect(hint({ list: [{ lenght: 520 }, {}] })).toBe(
      '"list, entry 1, length" is missing. "lenght" looks like a misspelling of it.',
    );
    expect(of({ name: 'a', size: 1, length: 2, list: [{}] })[0]?.message).toBe(
      '"list, entry 1, length" is missing.',
    );
  });

  test('names ten unknown fields, at every depth, and counts the rest', () => {
    const stray = (n: number) =>
      Object.fromEntries(Array.from({ length: n }, (_, i) => [`stray ${i}`, 1]));
    const said = (input: unknown) =>
      unknownFields(schema, input, 'x.json').map(({ message }) => message);
    expect(said({ list: [{ length: 1 }, { lenght: 1 }], sise: 2 })).toEqual([
      'x.json: the field "list, entry 2, lenght" is not known and was ignored. Did you mean "length"?',
      'x.json: the field "sise" is not known and was ignored. Did you mean "size"?',
    ]);
    // What is there already was not meant
    expect(said({ size: 1, sise: 2 })).toEqual([
      'x.json: the field "sise" is not known and was ignored.',
    ]);
    expect(said(stray(10))).toHaveLength(10);
    expect(said(stray(11)).at(-1)).toBe('x.json: 1 more field is not known and was ignored.');
    expect(said(stray(12)).at(-1)).toBe('x.json: 2 more fields are not known and were ignored.');
    expect(said({ ['y'.repeat(200)]: 1 })[0]).toContain(`"${'y'.repeat(200)}"`);
    expect(said({ ['y'.repeat(201)]: 1 })[0]).toContain(`"${'y'.repeat(200)}…"`);
    expect([said([]), said(null), said('x'), said({ list: {} })]).toEqual([[], [], [], []]);
  });

  test('counts entries from 1', () => {
    expect(fieldName(['sources', 1, 'name'])).toBe('sources, entry 2, name');
    expect(fieldName([])).toBe('');
  });
});

describe('bytes of a file', () => {
  const of = (...bytes: number[]) => fileText(Uint8Array.from(bytes), 'runs.csv');

  test.each<[string, readonly number[], { text: string; guessed: boolean }]>([
    ['plain', [0x61, 0x0a], { text: 'a\n', guessed: false }],
    ['none', [], { text: '', guessed: false }],
    ['UTF-8', [0xc3, 0xbc], { text: 'ü', guessed: false }],
    ['UTF-16, small end first', [0xff, 0xfe, 0xfc, 0x00], { text: 'ü', guessed: false }],
    ['UTF-16, large end first', [0xfe, 0xff, 0x00, 0xfc], { text: 'ü', guessed: false }],
    ['Windows-1252', [0xfc, 0xb5], { text: 'üµ', guessed: true }],
    ['half a mark', [0xff, 0x61], { text: 'ÿa', guessed: true }],
    ['the other half', [0xfe, 0x61], { text: 'þa', guessed: true }],
  ])('%s', (_, bytes, expected) => {
    expect(of(...bytes)).toEqual(expected);
  });

  test('that break off in the middle of UTF-16 are refused', () => {
    expect(errorOf(() => of(0xff, 0xfe, 0x61))).toMatchObject({
      code: 'file-unreadable',
      file: 'runs.csv',
      found: '3 bytes',
    });
  });

  test('that break off are to be saved as what the file is', () => {
    const rightFor = (file: string) =>
      errorOf(() => fileText(new Uint8Array([0xff, 0xfe, 0x61]), file)).message;
    expect(rightFor('study.json')).toContain('saved once more, best as UTF-8.');
    expect(rightFor('runs.csv')).toContain('best as "CSV UTF-8".');
  });

  test('of a part of a longer buffer are those of the part', () => {
    const whole = Buffer.from('abcd');
    expect(fileText(whole.subarray(1, 3), 'x').text).toBe('bc');
  });
});

describe('a file that somebody names', () => {
  const folder = mkdtempSync(join(tmpdir(), 'meterpair-regular-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  test('is read, or is said to be what it is', async () => {
    const path = join(folder, 'a');
    writeFileSync(path, 'x');
    expect(Buffer.from(await regularFile(path, 'a')).toString()).toBe('x');
    expect(await errorLater(regularFile(folder, 'a', 'a file'))).toMatchObject({
      code: 'file-unreadable',
      file: 'a',
      expected: 'a file',
    });
    const device = await errorLater(regularFile('/dev/null', 'a'));
    expect(device).toMatchObject({ code: 'file-unreadable', expected: 'a regular file' });
    expect(await errorLater(regularFile(join(path, 'b'), 'b'))).toMatchObject({
      code: 'file-missing',
    });
  });

  test.each([
    ['ENOENT', 'file-missing', 'There is no such file.'],
    ['ENOTDIR', 'file-missing', 'There is no such file.'],
    ['EISDIR', 'file-unreadable', 'This is a folder, and a file is expected.'],
    ['EACCES', 'file-unreadable', 'You have no permission to read this.'],
    ['EPERM', 'file-unreadable', 'You have no permission to read this.'],
    ['ELOOP', 'file-unreadable', 'This is a link that leads back to itself.'],
    ['EIO', 'file-unreadable', 'This cannot be read (EIO).'],
  ])('%s is %s', (code, kind, said) => {
    const error = unreadable('a', { code });
    expect([error.code, error.message.includes(said), error.expected]).toEqual([
      kind,
      true,
      undefined,
    ]);
  });

  test.each([
    [{ code: 'EIO' }, 'EIO'],
    [{}, 'unknown reason'],
    [null, 'unknown reason'],
    ['EIO', 'unknown reason'],
  ])('the system’s word for %j is %s', (error, word) => {
    expect(codeOf(error)).toBe(word);
  });
});

describe('JSON that is written', () => {
  test.each([
    [{ a: [1, { b: Number.NaN }] }, 'it.a[1].b is not a finite number', 'NaN'],
    [[Number.NEGATIVE_INFINITY], 'it[0] is not a finite number', '-Infinity'],
    [undefined, 'it is not plain data', 'undefined'],
    [{ a: [undefined] }, 'it.a[0] is not plain data', 'undefined'],
    [{ a: new Map() }, 'it.a is not plain data', 'object'],
    [{ a: () => 1 }, 'it.a is not plain data', 'function'],
  ])('%j is refused by its path', (value, said, found) => {
    const error = errorOf(() => finiteJson(value, 'it'));
    expect(error).toMatchObject({ code: 'argument-wrong', found });
    expect(error.message).toContain(said);
  });

  test('has twelve digits, leaves out what is not there, and takes records without a prototype', () => {
    expect(finiteJson({ a: 1 / 3, b: undefined, c: true }, 'it')).toBe(
      '{\n  "a": 0.333333333333,\n  "c": true\n}\n',
    );
    expect(finiteJson(Object.assign(Object.create(null), { a: null }), 'it')).toBe(
      '{\n  "a": null\n}\n',
    );
  });
});

describe('text that is no table', () => {
  const of = (text: string) => {
    const faults: ErrorParts[] = [];
    const table = readTable(text, 'runs.csv', (name) => name === 'meter', faults);
    return { table, faults };
  };

  test.each([
    ['PK\u0003\u0004', 'a spreadsheet file (.xlsx or .ods) or an archive'],
    ['\uFFFD\uFFFD\u0011x', 'a spreadsheet file (.xls)'],
    ['\u00D0\u00CF\u0011\u00E0x', 'a spreadsheet file (.xls)'],
    [' \n<!doctype html>', 'a web page or an XML file'],
    ['<HTML>', 'a web page or an XML file'],
    ['<?xml version="1.0"?>', 'a web page or an XML file'],
    ['meter\u0000', 'a binary file or text in an unusual encoding'],
  ])('%j is %s', (text, what) => {
    const { table, faults } = of(text);
    expect(table).toBeNull();
    expect(faults).toEqual([
      {
        code: 'csv-invalid',
        file: 'runs.csv',
        message: `This is ${what}, not a CSV file.`,
        expected: 'the sheet saved as CSV (in the spreadsheet: Save as, type CSV)',
      },
    ]);
  });

  test('a cell without a heading says where, and hints at a comma only between commas', () => {
    const stray = (text: string) => {
      const [fault] = of(text).faults;
      return [
        fault?.row,
        fault?.found,
        fault?.expected,
        fault?.message.includes('Cell 3'),
        fault?.message.includes('decimal comma'),
      ];
    };
    expect(stray('meter,a\nx,46,2\n')).toEqual([
      2,
      '"2"',
      'at most 2 cells, separated by commas',
      true,
      true,
    ]);
    expect(stray('meter;a\nx;46;2\n')).toEqual([
      2,
      '"2"',
      'at most 2 cells, separated by semicolons',
      true,
      false,
    ]);
    expect(stray('meter\ta\t\nx\t46\t2\n')[2]).toBe('at most 2 cells, separated by tabs');
    expect(of('meter,a,\nx,46,\n').faults).toEqual([]);
  });

  test('a first line names the separator, unless it names none', () => {
    expect(of('sep=;\nmeter;a,b\n').table?.separator).toBe(';');
    expect(of('SEP=\t\nmeter\ta\n').table?.headings).toEqual(['meter', 'a']);
    expect(of('sep=|\nmeter,a\nx,1\n').table).toMatchObject({
      separator: ',',
      headings: ['meter', 'a'],
      rows: [{ row: 2, cells: ['x', '1'] }],
    });
  });

  test('among separators that tell as many known headings, that of more columns counts', () => {
    expect(of('a;b;c,d\n').table?.separator).toBe(';');
    expect(of('a,b;c\n').table?.separator).toBe(',');
    expect(of('a;b,meter\n').table?.separator).toBe(',');
  });
});

describe('planned rows', () => {
  test('are those below the last one with a reading, a reason or a mark', () => {
    const of = (rows: string) => {
      const { columns } = runEntries(
        `meter,reading_mW,peak_mW,zero_mW,exclude,checked,series\n${rows}`,
        [],
        [],
      )!;
      const { measured, waiting } = splitMeasured(columns, 'tidy');
      return [measured.map(({ row }) => row), waiting];
    };
    const waits = (row: number, meter: string) => ({ row, series: 'a', meter });
    expect(of('reference,46,,,,,a\ncandidate,,,0.5,,,a\nReference,,,,,,a\n')).toEqual([
      [2],
      [waits(3, 'candidate'), waits(4, 'reference')],
    ]);
    for (const cell of [',47,,,', ',,,knocked,', ',,,,x'])
      expect(of(`reference,46,,,,,a\ncandidate${cell.replace(/^,/, ',,')},a\n`)[0]).toEqual([2, 3]);
    expect(of('reference,,,,,,a\n')).toEqual([[], [waits(2, 'reference')]]);
  });
});

describe('the day of a study', () => {
  const entries = (...days: readonly (string | null)[]) =>
    days.map((day) => ({
      row: 2,
      series: '',
      source: '',
      filter: '',
      wavelength_nm: null,
      setting_nm: null,
      started: day === null ? null : ({ kind: 'date and time', seconds: 0, day } as const),
      exclude: null,
      checked: false,
      note: null,
      readings: [],
    }));
  const of = (stated: string | null, ...days: readonly (string | null)[]) => {
    const warnings: Warning[] = [];
    const day = studyDate(stated, entries(...days), warnings);
    return [day, warnings.map(({ message }) => /are of (.*): one/.exec(message)?.[1])];
  };

  test.each([
    [null, [], null, []],
    [null, [null], null, []],
    // The earliest, wherever it stands
    [null, ['2026-03-15', '2026-03-14'], '2026-03-14', []],
    ['2026-03', ['2026-03-15'], '2026-03', []],
    ['2026-03-01', [], '2026-03-01', []],
    ['2026-03-01', ['2026-03-14'], '2026-03-01', ['2026-03-14']],
    ['2026-03-01', ['2026-03-14', '2026-03-15'], '2026-03-01', ['2026-03-14 to 2026-03-15']],
  ] as const)('stated %s, rows of %j: %s, %j', (stated, days, day, warned) => {
    expect(of(stated, ...days)).toEqual([day, warned]);
  });
});

describe('what study.json leaves open', () => {
  const warned = (study: object) =>
    codesOf(studyOf(TIDY, { ...PLAIN, ...study })).filter((code) => code !== 'order-default');

  test.each<[string, object, readonly string[]]>([
    ['nothing', {}, []],
    ['a name', { candidate: {} }, ['meter-name-default']],
    [
      'the coverage factor',
      { candidate: { name: 'C', expanded_uncertainty_percent: 3 } },
      ['coverage-factor-default'],
    ],
    ['its U', { candidate: { name: 'C', coverage_factor: 2 } }, ['coverage-factor-alone']],
    [
      'a U of 0.1 % is possible',
      { reference: { name: 'R', expanded_uncertainty_percent: 0.1, coverage_factor: 2 } },
      [],
    ],
    [
      'a smaller one is not',
      { reference: { name: 'R', expanded_uncertainty_percent: 0.099, coverage_factor: 2 } },
      ['uncertainty-implausible'],
    ],
    ['U of the reference', { reference: { name: 'R' } }, ['reference-uncertainty-not-stated']],
    ['the tolerance', { tolerance_percent: undefined }, ['tolerance-default']],
  ])('%s', (_, study, expected) => {
    expect(warned(study)).toEqual(expected);
  });

  test('has its default, and the title is made of the names', () => {
    const { title, candidate, tolerance, tolerance_stated, between_series, sources } =
      checkedSettings({ reference: { name: 'R' }, candidate: {}, sources: [] });
    expect({ title, tolerance, tolerance_stated, between_series, sources }).toEqual({
      title: 'candidate against R',
      tolerance: 0.05,
      tolerance_stated: false,
      between_series: null,
      sources: null,
    });
    expect(candidate).toMatchObject({ role: 'candidate', name: 'candidate', coverage_factor: 2 });
    expect(checkedSettings({ ...PLAIN, between_series_percent: 2 }).between_series).toBe(0.02);
  });

  test('names that stand twice are named with both places', () => {
    const filters = [
      {
        name: 'grey',
        transmissions: [
          { wavelength_nm: 520, transmission: 0.1, standard_uncertainty: 0.001 },
          { wavelength_nm: 520, transmission: 0.2, standard_uncertainty: 0.001 },
        ],
      },
      {
        name: 'grey',
        transmissions: [{ wavelength_nm: 520, transmission: 0.1, standard_uncertainty: 0.001 }],
      },
    ];
    const faults = faultsOf(
      errorOf(() =>
        checkedSettings({
          ...PLAIN,
          sources: [PLAIN.sources[0], { name: 'red', wavelength_nm: 638 }, PLAIN.sources[0]],
          filters,
        }),
      ),
    );
    expect(
      faults.map(({ message, found, expected }) => [
        message.replace(/^study\.json: /, '').split(' Found')[0],
        found,
        expected,
      ]),
    ).toEqual([
      ['"sources, entry 3, name" repeats entry 1.', '"green"', 'every entry different'],
      ['"filters, entry 2, name" repeats entry 1.', '"grey"', 'every entry different'],
      [
        '"filters, entry 1, transmissions, entry 2, wavelength_nm" repeats entry 1.',
        '520',
        'every entry different',
      ],
    ]);
  });

  test.each([[[]], [null], ['x'], [7]])('%j is no study', (input) => {
    expect(errorOf(() => checkedSettings(input))).toMatchObject({
      code: 'study-json-invalid',
      file: 'study.json',
      found: JSON.stringify(input),
    });
  });
});
