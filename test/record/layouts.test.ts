/** Headings of runs.csv, units in its cells, traces beside it, and the fingerprint of it all. */
import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import type { ErrorParts } from '../../src/error.js';
import { findColumns, missingColumn, unknownColumns } from '../../src/record/columns.js';
import { dataSha256, readingsSha256 } from '../../src/record/dataSha256.js';
import { plainTraces } from '../../src/record/plainTraces.js';
import { runEntries } from '../../src/record/runEntries.js';
import { isKnownHeading, layoutOf, planOf } from '../../src/record/runLayout.js';
import { readTable } from '../../src/record/table.js';
import { linePieces, tableText } from '../../src/record/tableText.js';
import { traceList } from '../../src/record/traceList.js';
import { unitsInCells } from '../../src/record/unitsInCells.js';
import type { Warning } from '../../src/vocabulary.js';
import { runsOf, seriesOf } from '../series/runs.js';
import { errorOf } from './support.js';

const tableOf = (text: string) => readTable(text, 'runs.csv', isKnownHeading, [])!;

describe('the layout that headings show', () => {
  const of = (headings: string) => {
    const faults: ErrorParts[] = [];
    const layout = layoutOf(tableOf(`${headings}\n`), faults);
    return [layout, faults.map(({ code, column }) => column ?? code)];
  };

  test.each([
    ['meter,reading_mW', 'tidy', []],
    ['meter', 'tidy', []],
    ['reading_W', 'tidy', []],
    ['reference_mW', 'side-by-side', []],
    ['candidate_uW,note', 'side-by-side', []],
    ['meter,reference_mW', null, ['csv-invalid']],
    // A misspelt heading of either is named; else that nothing is there
    ['metr,note', null, ['meter']],
    ['refrence_mW,candidat_mW', null, ['reference_mW', 'candidate_mW']],
    ['colour,note', null, ['reading_mW']],
  ])('%s: %s, %j', (headings, layout, columns) => {
    expect(of(headings)).toEqual([layout, columns]);
  });

  test('a column of the unit takes it out of the headings', () => {
    const plan = (headings: string, layout: 'tidy' | 'side-by-side') =>
      planOf(tableOf(`${headings}\n`), layout);
    expect(plan('meter,reading,unit', 'tidy')).toMatchObject({
      powers: [],
      byRow: ['reading', 'peak', 'zero'],
    });
    expect(plan('meter,reading_mW', 'tidy')).toMatchObject({
      powers: ['reading', 'peak', 'zero'],
      numbers: ['wavelength_nm', 'setting_nm'],
    });
    expect(plan('meter,reading_mW', 'tidy').byRow).toBeUndefined();
    expect(plan('reference_mW,unit', 'side-by-side').powers).toEqual(['reference', 'candidate']);
  });
});

describe('columns that lack, or do not belong', () => {
  const faults = (headings: string) => {
    const list: ErrorParts[] = [];
    const table = runEntries(`${headings}\n`, list, []);
    return [table, list.map(({ code, column }) => [code, column])];
  };

  test.each([
    ['meter,note', [['column-missing', 'reading_mW']]],
    ['reading_mW,note', [['column-missing', 'meter']]],
    ['meter,unit', [['column-missing', 'reading']]],
    ['reference_mW,note', [['column-missing', 'candidate_mW']]],
    ['candidate_mW,note', [['column-missing', 'reference_mW']]],
    // A unit twice is one fault and no missing column beside it
    ['meter,reading_mW,unit', [['column-unknown', 'reading_mW']]],
    [
      'meter,unit,reading_mW,peak_W',
      [
        ['column-unknown', 'reading_mW'],
        ['column-unknown', 'peak_W'],
      ],
    ],
    // One row a lap has no peak, no zero, no unit
    [
      'reference_mW,candidate_mW,peak_mW,zero_W,unit,setting_nm',
      [
        ['column-unknown', 'peak_mW'],
        ['column-unknown', 'zero_W'],
        ['column-unknown', 'unit'],
        ['column-unknown', 'setting_nm'],
      ],
    ],
  ])('%s: %j', (headings, expected) => {
    expect(faults(headings)).toEqual([null, expected]);
  });

  test('a heading alone is a table without rows', () => {
    const list: ErrorParts[] = [];
    expect(runEntries('meter,reading_mW\n', list, [])?.entries).toEqual([]);
    expect(list).toMatchObject([{ code: 'no-rows', expected: 'one row a run' }]);
    const laps: ErrorParts[] = [];
    runEntries('reference_mW,candidate_mW\n', laps, []);
    expect(laps).toMatchObject([{ code: 'no-rows', expected: 'one row a lap' }]);
  });

  test('points that may be thousands are warned of between semicolons alone', () => {
    const codes = (text: string) => {
      const warnings: Warning[] = [];
      runEntries(text, [], warnings);
      return warnings.map(({ code }) => code);
    };
    expect(codes('meter;reading_mW\nreference;1.234\n')).toEqual(['decimal-point-assumed']);
    expect(codes('meter,reading_mW\nreference,1.234\n')).toEqual([]);
    expect(codes('meter;reading_mW\nreference;1.23\n')).toEqual([]);
    expect(codes('meter,reading_mW,colour\nreference,46,x\n')).toEqual(['unknown-column']);
  });

  const PLAN = { powers: ['reading'], numbers: ['wavelength_nm'], words: ['meter'] };
  const columns = (headings: string) => findColumns(tableOf(`${headings}\n`), PLAN, []);

  test('what is missing: a misspelt heading, one in words, or a single column', () => {
    const said = (headings: string, names: readonly string[], why = '') => {
      const { message, found, expected, column } = missingColumn(columns(headings), names, why);
      return [message, found, expected, column];
    };
    expect(said('colour,,note', ['meter'], 'Every row needs it.')).toEqual([
      'The column meter is missing. Every row needs it.',
      'the columns colour, note',
      'a heading meter in the first row',
      'meter',
    ]);
    expect(said('metre,note', ['meter'])[0]).toBe(
      'The column meter is missing. "metre" looks like a misspelling of it.',
    );
    expect(said('Leistung,x', ['reading_mW', 'reading_W'])[0]).toBe(
      'The column reading_mW or reading_W is missing. Is "Leistung" this column? Then call it reading_mW.',
    );
    expect(said('Farbe,x', ['wavelength_nm'])[0]).toContain('Is "Farbe" this column?');
    expect(said('Messgerät,x', ['meter'])[0]).toContain('Is "Messgerät" this column?');
    // In words, and of another quantity
    expect(said('Leistung,x', ['meter'])[0]).toBe('The column meter is missing.');
    expect(said('a b c', ['meter'])[0]).toBe(
      'The column meter is missing. Columns are separated by commas, semicolons or tabs.',
    );
  });

  test('a column that is not read is held against those that are free', () => {
    const said = (headings: string) =>
      unknownColumns(columns(headings), PLAN).map(({ code, message }) => [code, message]);
    expect(said('metre,meter')).toEqual([
      ['unknown-column', 'runs.csv: the column "metre" is not known and was not read.'],
    ]);
    expect(said('metre,x,reading_mW')).toEqual([
      ['unknown-column', expect.stringMatching(/^runs\.csv: the column "metre" is .*"meter"/)],
      ['unknown-column', 'runs.csv: the column "x" is not known and was not read.'],
    ]);
    expect(said('meter')).toEqual([]);
  });
});

describe('units in cells', () => {
  const of = (text: string) => {
    const { headings, rows } = unitsInCells(tableOf(text));
    return [headings, ...rows.map(({ cells }) => cells)];
  };

  test.each<[string, string, readonly (readonly string[])[]]>([
    ['the heading’s own', 'reading_mW\n46 mW\n41\n', [['reading_mW'], ['46'], ['41']]],
    ['another way of writing it', 'reading_uW\n46 µW\n', [['reading_uW'], ['46']]],
    ['nm', 'wavelength_nm\n520NM\n', [['wavelength_nm'], ['520']]],
    [
      'another in every cell',
      'reading_mW\n0.046 W\n41 mW\n',
      [['reading_mW'], ['0.046e3'], ['41']],
    ],
    [
      'another, one cell without',
      'reading_mW\n0.046 W\n41\n',
      [['reading_mW'], ['0.046 W'], ['41']],
    ],
    ['under a bare heading', 'reading\n46 mW\n0.041 W\n', [['reading_mW'], ['46'], ['0.041e3']]],
    [
      'an empty cell beside it',
      'reading,note\n46 mW,\n,x\n',
      [
        ['reading_mW', 'note'],
        ['46', ''],
        ['', 'x'],
      ],
    ],
    ['µW under W', 'zero_W\n46 uW\n', [['zero_W'], ['46e-6']]],
    ['no unit of power', 'reading_mW\n46 dB\n', [['reading_mW'], ['46 dB']]],
    ['under words', 'note\n46 mW\n', [['note'], ['46 mW']]],
    [
      'beside a column of it',
      'reading,unit\n46 mW,W\n',
      [
        ['reading', 'unit'],
        ['46 mW', 'W'],
      ],
    ],
    ['a power under nm', 'wavelength_nm\n520 mW\n', [['wavelength_nm'], ['520 mW']]],
    ['at the end of a heading alone', 'my_old_mW\n46 mW\n', [['my_old_mW'], ['46']]],
    ['none', 'reading_mW\n46\n', [['reading_mW'], ['46']]],
  ])('%s', (_, text, expected) => {
    expect(of(text)).toEqual(expected);
  });

  test('each column by itself; a table without any is left as it is', () => {
    expect(of('reading_mW,peak_mW\n46 mW,0.047 W\n41,0.042 W\n')).toEqual([
      ['reading_mW', 'peak_mW'],
      ['46', '0.047e3'],
      ['41', '0.042e3'],
    ]);
    const plain = tableOf('reading_mW\n46\n');
    expect(unitsInCells(plain)).toBe(plain);
  });
});

describe('traces of the plain kind', () => {
  const COLUMNS = { count: 2, elapsed: 0, reading: 1, shift: 0, strange: ['"'] };
  const of = (lines: readonly string[], columns: object = {}) => {
    const owner = { elapsed_s: [] as number[], reading_mW: [] as number[] };
    const plain = plainTraces(lines, ',', { ...COLUMNS, ...columns }, () => owner);
    return plain ? owner : null;
  };

  test.each<[string, readonly [number, number] | null]>([
    ['0,46.25', [0, 46.25]],
    ['-0.5,-0.25', [-0.5, -0.25]],
    ['1.,46', [1, 46]],
    ['0,123456789.012345', null],
    ['0,12345678.0123456', [0, 12345678.0123456]],
    ['0,100000000', [0, 1e8]],
    ['0,100000001', null],
    ['100000001,1', null],
    ['0,0.000000000000001', null],
    ['0,0.00000000000001', [0, 1e-14]],
    ['0,0', [0, 0]],
    ['0,.5', null],
    ['0,+5', null],
    ['0,1e3', null],
    ['0, 5', null],
    ['0,5 ', null],
    ['0,', null],
    ['0', null],
    ['0,5,6', null],
    ['0,1.2.3', null],
    ['0,--1', null],
    ['0,"5"', null],
  ])('%s: %j', (line, expected) => {
    const found = of([`${line}\n`]);
    expect(found).toEqual(
      expected === null ? null : { elapsed_s: [expected[0]], reading_mW: [expected[1]] },
    );
    // The last line may do without its end
    expect(of([line])).toEqual(found);
  });

  test('time may stand and not go back, from one piece to the next as well', () => {
    expect(of(['0,1\n0,2\n1,3\n'])).toEqual({ elapsed_s: [0, 0, 1], reading_mW: [1, 2, 3] });
    expect(of(['0,1\n', '0,2\n'])).not.toBeNull();
    expect(of(['1,1\n0,2\n'])).toBeNull();
    expect(of(['1,1\n', '0,2\n'])).toBeNull();
  });

  test('the point moves on the way to mW; a time stays', () => {
    expect(of(['2,0.0462\n'], { shift: 3 })).toEqual({ elapsed_s: [2], reading_mW: [46.2] });
    expect(of(['2,46200\n'], { shift: -3 })).toEqual({ elapsed_s: [2], reading_mW: [46.2] });
    expect(of(['2,200000\n'], { shift: 3 })).toBeNull();
  });

  test('rows are counted on through the pieces, and a row that nobody owns ends it', () => {
    const asked: number[] = [];
    const owner = { elapsed_s: [], reading_mW: [] };
    const columns = { count: 3, elapsed: 1, reading: 2, shift: 0, strange: [] };
    const ask = (last: string) =>
      plainTraces(['a,0,1\na,1,2\n', `b,2,3\n${last},3,4\n`], ',', columns, (cells, row) => {
        asked.push(row);
        return cells[0] === 'x' ? null : owner;
      });
    expect(ask('b')).toBe(true);
    // The first line of a piece is asked for anew
    expect(asked).toEqual([2, 4]);
    asked.length = 0;
    expect(ask('x')).toBe(false);
    expect(asked).toEqual([2, 4, 5]);
  });

  test('a word that begins like the one above is another one', () => {
    const owners: string[] = [];
    const columns = { count: 3, elapsed: 1, reading: 2, shift: 0, strange: [] };
    plainTraces(['a,0,1\nab,1,2\na,2,3\n,3,4\n'], ',', columns, (cells) => {
      owners.push(cells[0] ?? '');
      return { elapsed_s: [], reading_mW: [] };
    });
    expect(owners).toEqual(['a', 'ab', 'a', '']);
  });
});

describe('whose trace a row is', () => {
  const one = seriesOf(runsOf('RCRC', () => 46));
  const list = (text: string, names: readonly string[] = ['s'], parts = [one]) => {
    const faults: ErrorParts[] = [];
    const warnings: Warning[] = [];
    const byName = new Map(names.map((name) => [name, parts]));
    const traces = traceList(tableText(text), byName, faults, warnings);
    return { traces, faults: faults.map(({ message: _, ...place }) => place), warnings };
  };
  const HEAD = 'series,run,meter,elapsed_s,reading_mW\n';
  const place = { file: 'traces.csv', row: 2 } as const;

  test('of the run within its series, in all parts of it', () => {
    const parts = [one, { ...one, id: 's (2)' }];
    const { traces, faults } = list(`${HEAD}s,5,reference,0,1\ns,2,CANDIDATE,0,2\n`, ['s'], parts);
    expect(faults).toEqual([]);
    expect(traces).toEqual([
      { series: 's (2)', run: 1, meter: 'reference', elapsed_s: [0], reading_mW: [1] },
      { series: 's', run: 2, meter: 'candidate', elapsed_s: [0], reading_mW: [2] },
    ]);
  });

  test.each([
    [
      'x,1,reference,0,1',
      {
        code: 'cell-unknown-word',
        column: 'series',
        found: '"x"',
        expected: 'the name of a series of runs.csv: s',
      },
    ],
    [
      's,5,reference,0,1',
      {
        code: 'cell-out-of-range',
        column: 'run',
        found: '5',
        expected: 'a whole number from 1 to 4, counted within the series in the order of runs.csv',
      },
    ],
    ['s,0,reference,0,1', { code: 'cell-out-of-range', column: 'run', found: '0' }],
    ['s,1.5,reference,0,1', { code: 'cell-out-of-range', column: 'run', found: '1.5' }],
    [
      's,1,candidate,0,1',
      {
        code: 'row-inconsistent',
        column: 'meter',
        found: '"candidate"',
        expected: 'reference',
      },
    ],
    ['s,1,both,0,1', { code: 'cell-unknown-word', column: 'meter', found: '"both"' }],
    ['s,1,,0,1', { code: 'cell-missing', column: 'meter', found: 'an empty cell' }],
    ['s,1,reference,,1', { code: 'cell-missing', column: 'elapsed_s' }],
    ['s,1,reference,0,', { code: 'cell-missing', column: 'reading_mW' }],
    ['s,1,reference,0,1.1e8', { code: 'cell-out-of-range', column: 'reading_mW' }],
  ])('%s is refused: %j', (row, fault) => {
    const { faults } = list(`${HEAD}${row}\n`);
    expect(faults).toEqual([expect.objectContaining({ ...place, ...fault })]);
  });

  test('a name may be left out where there is one series alone', () => {
    expect(list(`${HEAD},1,reference,0,1\n`).traces).toHaveLength(1);
    expect(list('run,meter,elapsed_s,reading_mW\n1,reference,0,1\n').traces).toHaveLength(1);
    expect(list(`${HEAD},1,reference,0,1\n`, ['s', 't']).faults).toEqual([
      {
        code: 'cell-missing',
        ...place,
        column: 'series',
        expected: 'the name of a series of runs.csv: s or t',
      },
    ]);
    const { faults } = list('run,meter,elapsed_s,reading_mW\n1,reference,0,1\n', ['s', 't']);
    expect(faults).toMatchObject([{ code: 'column-missing', column: 'series' }]);
  });

  test('cell by cell it says the same as line by line', () => {
    const rows = 's,1,reference,0,46.5\ns,1,reference,1,47.5\ns,2,candidate,0,41\n';
    const plain = list(`${HEAD}${rows}`).traces;
    expect(plain.map(({ elapsed_s, reading_mW }) => [elapsed_s, reading_mW])).toEqual([
      [
        [0, 1],
        [46.5, 47.5],
      ],
      [[0], [41]],
    ]);
    expect(list(`${HEAD}${rows.replace('46.5', '"46.5"')}`).traces).toEqual(plain);
    const note = list(`${HEAD.trim()},colour\n${rows.replaceAll('\n', ',x\n')}`);
    expect([note.traces, note.warnings.map(({ code }) => code)]).toEqual([
      plain,
      ['unknown-column'],
    ]);
    const back = list(`${HEAD}s,1,reference,1,1\ns,1,reference,0,2\n`);
    expect(back.faults).toEqual([
      {
        code: 'row-inconsistent',
        file: 'traces.csv',
        row: 3,
        column: 'elapsed_s',
        found: '0 s after 1 s',
        expected: 'the readings of a run in the order in which they were taken',
      },
    ]);
  });
});

describe('the fingerprint', () => {
  const sha = (text: string) => createHash('sha256').update(text, 'utf8').digest('hex');
  const of = (content: object) =>
    dataSha256({ study: {}, runs: 'a', traces: undefined, opinions: undefined, ...content });

  test('is that of names, line feeds and contents, what is not there left out', () => {
    expect(of({})).toBe(sha('study.json\n{}\nruns.csv\na\n'));
    expect(of({ runs: '\uFEFFa\r\nb \r\n\r\n', traces: tableText('t\n'), opinions: [] })).toBe(
      sha('study.json\n{}\nruns.csv\na\nb\ntraces.csv\nt\nopinions.json\n[]\n'),
    );
  });

  test.each<[unknown, string]>([
    [{ b: 1, a: [1, null, 'x', true], $schema: 'y' }, '{"a":[1,null,"x",true],"b":1}'],
    [{ a: undefined, b: [undefined] }, '{"b":[null]}'],
    [{ B: 1, a: 2, A: 3 }, '{"A":3,"B":1,"a":2}'],
    [['$schema'], '["$schema"]'],
    [null, 'null'],
    ['x', '"x"'],
    [{ inner: { $schema: 1 } }, '{"inner":{"$schema":1}}'],
  ])('%j counts as %s', (study, text) => {
    expect(of({ study })).toBe(sha(`study.json\n${text}\nruns.csv\na\n`));
  });

  test('white space at the end goes, however many pieces it fills', () => {
    const pieces = (list: readonly string[]) => ({
      pieces: () => list,
      whole: () => list.join(''),
    });
    const end = (list: readonly string[]) => of({ traces: pieces(list) });
    const same = sha('study.json\n{}\nruns.csv\na\ntraces.csv\nb\n\nc\n');
    expect(end(['b\n', '\n', 'c\n', ' \n', '\n'])).toBe(same);
    expect(end(['b\n\nc'])).toBe(same);
    expect(end([' \n', '\n'])).toBe(sha('study.json\n{}\nruns.csv\na\ntraces.csv\n\n'));
  });

  test('is refused of what JSON cannot hold', () => {
    const found = (study: unknown) => errorOf(() => of({ study })).found;
    expect([found({ a: 1n }), found({ a: () => 1 }), found(Symbol('x'))]).toEqual([
      'a bigint',
      'a function',
      'a symbol',
    ]);
    const round: { self?: unknown } = {};
    round.self = round;
    expect(found(round)).toBe('nested without end');
  });

  test('of the readings alone holds meters, numbers, filter, setting and moment', () => {
    const { entries } = runEntries(
      'meter,reading_mW,peak_mW,zero_mW,filter,setting_nm,started_at,note\nreference,46.5,47,0.5,grey,520,75,x\ncandidate,41,,,,,,\n',
      [],
      [],
    )!;
    expect(readingsSha256(entries)).toBe(
      sha(
        '[[[["reference",46,46.5,0.5]],75,"grey",520],[[["candidate",41,null,null]],null,"",null]]',
      ),
    );
    expect(readingsSha256([])).toBe(sha('[]'));
  });
});

test('a text goes in pieces of whole lines', () => {
  const line = `${'x'.repeat(40_000)}\n`;
  expect([...linePieces(line.repeat(5))].map(({ length }) => length)).toEqual([
    80_002, 80_002, 40_001,
  ]);
  expect([...linePieces('')]).toEqual([]);
  expect([...linePieces('a\nb')]).toEqual(['a\nb']);
});
