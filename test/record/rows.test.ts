/** Rows of runs.csv: every fault with its whole place, every run as a whole record. */
import { describe, expect, test } from 'vitest';
import type { ErrorParts } from '../../src/error.js';
import { runEntries } from '../../src/record/runEntries.js';
import { orderWarnings, ratedWarnings, settingWarnings } from '../../src/record/seriesWarnings.js';
import {
  WAVELENGTH_EXPECTED,
  WAVELENGTH_MAX_NM,
  WAVELENGTH_MIN_NM,
} from '../../src/record/studySchema.js';
import { checkedSettings } from '../../src/record/studySettings.js';
import type { Warning } from '../../src/vocabulary.js';
import { runsOf } from '../series/runs.js';
import { codesOf, errorOf, faultsOf, PLAIN, studyOf, TWO_SOURCES, warningOf } from './support.js';

/** The faults without their sentences. */
const placesOf = (text: string, study: unknown = PLAIN) =>
  faultsOf(errorOf(() => studyOf(text, study))).map(({ message: _, ...place }) => place);
const FILE = { file: 'runs.csv' } as const;

describe('a run as a whole record', () => {
  const GOOD = {
    run: 1,
    lap: 1,
    row: 2,
    meter: 'reference',
    reading_mW: 46.25,
    scale: 1,
    peak_mW: null,
    zero_mW: null,
    time_s: 0,
    setting_nm: null,
    exclude: null,
    checked: false,
    note: null,
  };

  test('with everything in it, and with nothing', () => {
    const study = studyOf(
      'series,source,filter,meter,reading_mW,peak_mW,zero_mW,setting_nm,started_at,exclude,checked,note\na,green,,Reference,46.5,47.75,0.25,520,100,knocked head,x,windy\na,green,,CANDIDATE,41,,,,130,,,\n',
    );
    expect(study.series).toEqual([
      {
        id: 'a',
        source: 'green',
        wavelength_nm: 520,
        timed: true,
        kind: 'comparison',
        filter: null,
        runs: [
          {
            ...GOOD,
            peak_mW: 47.5,
            zero_mW: 0.25,
            setting_nm: 520,
            exclude: 'knocked head',
            checked: true,
            note: 'windy',
          },
          { ...GOOD, run: 2, row: 3, meter: 'candidate', reading_mW: 41, time_s: 30 },
        ],
      },
    ]);
  });

  test('one row a lap: in the order that the protocol states', () => {
    const laps = (order: string) =>
      studyOf('reference_mW,candidate_mW\n46,41\n47,42\n48,43\n49,44\n', {
        ...PLAIN,
        protocol: { order },
      }).series[0]!.runs.map(({ run, lap, row, reading_mW }) => [run, lap, row, reading_mW]);
    expect(laps('reference-first').map(([, , , reading]) => reading)).toEqual([
      46, 41, 47, 42, 48, 43, 49, 44,
    ]);
    expect(laps('candidate-first').map(([, , , reading]) => reading)).toEqual([
      41, 46, 42, 47, 43, 48, 44, 49,
    ]);
    expect(laps('ABBA-BAAB')).toEqual([
      [1, 1, 2, 46],
      [2, 1, 2, 41],
      [3, 2, 3, 42],
      [4, 2, 3, 47],
      [5, 3, 4, 43],
      [6, 3, 4, 48],
      [7, 4, 5, 49],
      [8, 4, 5, 44],
    ]);
  });
});

describe('one wrong cell', () => {
  const cell = (heading: string, text: string) =>
    placesOf(`meter,reading_mW,${heading}\nreference,46.2,${text}\ncandidate,41.8,\n`);
  const none = (heading: string, text: string) =>
    codesOf(studyOf(`meter,reading_mW,${heading}\nreference,46.2,${text}\ncandidate,41.8,\n`));

  test.each([
    [WAVELENGTH_MIN_NM, -1],
    [WAVELENGTH_MAX_NM, 1],
  ])('a wavelength of %d nm is one, and one beyond it is none', (bound, step) => {
    const nm = (value: number) =>
      `wavelength_nm,meter,reading_mW\n${value},reference,46\n${value},candidate,41\n`;
    expect(studyOf(nm(bound)).series[0]?.wavelength_nm).toBe(bound);
    const fault = {
      code: 'cell-out-of-range',
      ...FILE,
      column: 'wavelength_nm',
      found: `"${bound + step}"`,
      expected: WAVELENGTH_EXPECTED,
    };
    expect(placesOf(nm(bound + step))).toEqual([
      { ...fault, row: 2 },
      { ...fault, row: 3 },
    ]);
  });

  test.each(['no', 'YES', 'x', '-', '1', 'none', 'kept', 'nein'])(
    'a reason "%s" is none',
    (text) => {
      expect(cell('exclude', text)).toEqual([
        {
          code: 'cell-unknown-word',
          ...FILE,
          row: 2,
          column: 'exclude',
          found: `"${text}"`,
          expected:
            'an empty cell to keep the run, or why it is left out in words, for example: shutter bumped',
        },
      ]);
    },
  );

  test.each(['knocked', 'no light', 'yes it fell', 'ok', '光'])('a reason "%s" is one', (text) => {
    expect(none('exclude', text)).not.toContain('cell-unknown-word');
  });

  test('a name of 200 characters is the longest', () => {
    const name = (length: number) =>
      `series,meter,reading_mW\n${'x'.repeat(length)},reference,46\n${'x'.repeat(length)},candidate,41\n`;
    expect(studyOf(name(200)).series[0]?.id).toHaveLength(200);
    expect(placesOf(name(201)).map(({ code, row, column }) => [code, row, column])).toEqual([
      ['cell-out-of-range', 2, 'series'],
      ['cell-out-of-range', 3, 'series'],
    ]);
  });

  test('powers that no handheld meter shows: beyond 100 kW, and below 1 nW', () => {
    const reading = (text: string) => `meter,reading_mW\nreference,${text}\ncandidate,${text}\n`;
    expect(studyOf(reading('1e8')).series).toHaveLength(1);
    expect(placesOf(reading('1.01e8')).map(({ row, found }) => [row, found])).toEqual([
      [2, '"1.01e8"'],
      [3, '"1.01e8"'],
    ]);
    expect(studyOf(reading('1e-6')).series).toHaveLength(1);
    expect(placesOf(reading('0.99e-6')).map(({ row, found }) => [row, found])).toEqual([
      [2, '"0.99e-6"'],
      [3, '"0.99e-6"'],
    ]);
    expect(placesOf(`meter,reading_mW,zero_mW\nreference,46,-1.01e8\ncandidate,41,\n`)).toEqual([
      expect.objectContaining({ code: 'cell-out-of-range', row: 2, column: 'zero_mW' }),
    ]);
    expect(placesOf(`meter,reading_mW,peak_mW\nreference,46,1.01e8\ncandidate,41,\n`)).toEqual([
      expect.objectContaining({ code: 'cell-out-of-range', row: 2, column: 'peak_mW' }),
    ]);
  });

  test('a reading of zero or less once its zero is off, and what is said of it', () => {
    const faults = (reading: string, zero: string, exclude = '') =>
      faultsOf(
        errorOf(() =>
          studyOf(
            `meter,reading_mW,zero_mW,exclude\nreference,${reading},${zero},${exclude}\ncandidate,41,,\n`,
          ),
        ),
      ).map(({ message, found }) => [
        message.includes('once its zero is subtracted'),
        message.includes('A decimal place may have slipped'),
        found,
      ]);
    expect(faults('5', '5')).toEqual([[true, true, '"5" less the zero "5"']]);
    expect(faults('-1', '0.5')).toEqual([[true, false, '"-1" less the zero "0.5"']]);
    expect(faults('0', '')).toEqual([[false, false, '"0"']]);
    expect(faults('0', '0')).toEqual([[false, false, '"0"']]);
    const left = studyOf(
      'meter,reading_mW,zero_mW,exclude\nreference,5,5,head knocked\ncandidate,41,,\nreference,46,,\n',
    );
    expect(left.series[0]?.runs[0]).toMatchObject({ reading_mW: 0, exclude: 'head knocked' });
  });
});

describe('words in a row', () => {
  test('the meter', () => {
    const meter = (word: string) =>
      placesOf(`meter,reading_mW,note\n${word},46,x\ncandidate,41,\nreference,46,\n`);
    const expected = 'reference (the meter you trust) or candidate (the meter to be corrected)';
    const place = { ...FILE, row: 2, column: 'meter', expected };
    expect(meter('')).toEqual([{ code: 'cell-missing', ...place }]);
    expect(meter('both')).toEqual([{ code: 'cell-unknown-word', ...place, found: '"both"' }]);
  });

  test('the unit, in every row where there is a column of it', () => {
    const expected = 'mW, W or uW';
    const text = 'meter,reading,unit\nreference,46,mW\ncandidate,41,\nreference,46,V\n';
    expect(placesOf(text)).toEqual([
      { code: 'cell-missing', ...FILE, row: 3, column: 'unit', expected },
      { code: 'cell-unknown-word', ...FILE, row: 4, column: 'unit', found: '"V"', expected },
    ]);
  });

  test('the source, where study.json lists several', () => {
    const expected = 'green or red';
    const text =
      'source,meter,reading_mW\ngreen,reference,46\ngreen,candidate,41\n,reference,46\nblue,candidate,41\n';
    expect(placesOf(text, TWO_SOURCES)).toEqual([
      { code: 'cell-missing', ...FILE, row: 4, column: 'source', expected },
      { code: 'cell-unknown-word', ...FILE, row: 5, column: 'source', found: '"blue"', expected },
    ]);
    expect(placesOf('meter,reading_mW\nreference,46\n', TWO_SOURCES)).toMatchObject([
      { code: 'column-missing', column: 'source' },
    ]);
    // Of one source the name may be left out
    expect(studyOf('source,meter,reading_mW\n,reference,46\ngreen,candidate,41\n').series).toEqual([
      expect.objectContaining({ source: 'green' }),
    ]);
  });
});

describe('rows that study.json lists no source for', () => {
  const { sources: _, ...BARE } = PLAIN;
  const expected =
    'one source in the whole file, or every source with its wavelength in study.json';

  test('describe one, by its first name and wavelength', () => {
    const study = studyOf(
      'source,wavelength_nm,meter,reading_mW\n,520,reference,46\nlamp,520,candidate,41\n',
      BARE,
    );
    expect(study.sources).toEqual([
      {
        name: 'lamp',
        wavelength_nm: 520,
        label_class: null,
        label_max_mW: null,
        emission: null,
        beam_diameter_mm: null,
      },
    ]);
    expect(
      studyOf('wavelength_nm,meter,reading_mW\n520,reference,46\n520,candidate,41\n', BARE)
        .sources[0]?.name,
    ).toBe('source');
  });

  test.each([
    [
      'lamp,520,reference,46\nbulb,520,candidate,41\n',
      { code: 'row-inconsistent', row: 3, column: 'source', found: '"lamp" and "bulb"', expected },
    ],
    [
      'lamp,520,reference,46\nlamp,638,candidate,41\n',
      { code: 'row-inconsistent', row: 3, column: 'wavelength_nm', found: '520 and 638', expected },
    ],
    [
      'lamp,520,reference,46\nlamp,,candidate,41\n',
      {
        code: 'cell-missing',
        row: 3,
        column: 'wavelength_nm',
        expected: 'the wavelength in nm in every row, or the source in study.json',
      },
    ],
  ])('%j: the first of them is named', (rows, fault) => {
    expect(placesOf(`source,wavelength_nm,meter,reading_mW\n${rows}`, BARE)).toEqual([
      { ...FILE, ...fault },
    ]);
  });

  test('need a column of the wavelength', () => {
    expect(placesOf('meter,reading_mW\nreference,46\n', BARE)).toMatchObject([
      { code: 'column-missing', ...FILE, column: 'wavelength_nm' },
    ]);
  });
});

describe('a series that changes', () => {
  test.each([
    // Both at one wavelength
    ['source', 'green', 'another green', 'source'],
    ['wavelength_nm', '520', '532', 'wavelength'],
    ['filter', 'grey', 'dark', 'filter'],
  ])('its %s is refused in the row where it does', (column, before, after, word) => {
    const rest = column === 'source' ? '' : ',green';
    const head = column === 'source' ? column : `${column},source`;
    const text = `${head},series,meter,reading_mW\n${before}${rest},a,reference,46\n${after}${rest},a,candidate,41\n`;
    const quote = column === 'wavelength_nm' ? '' : '"';
    const sources = [...PLAIN.sources, { name: 'another green', wavelength_nm: 520 }];
    expect(placesOf(text, { ...PLAIN, sources })).toEqual([
      {
        code: 'row-inconsistent',
        ...FILE,
        row: 3,
        column,
        found: `${quote}${before}${quote} before and ${quote}${after}${quote} here`,
        expected: `one ${word} within a series; start a new series (column series) where it changes`,
      },
    ]);
  });

  test('a filter that study.json says nothing of is warned of once, an unknown one is refused', () => {
    const rows = (names: readonly string[]) =>
      `series,filter,meter,reading_mW\n${names
        .flatMap((name, i) => [`${i},${name},reference,46`, `${i},${name},candidate,41`])
        .join('\n')}\n`;
    const study = studyOf(rows(['grey', 'dark']));
    expect(codesOf(study).filter((code) => code === 'filter-not-stated')).toHaveLength(1);
    expect(warningOf(study, 'filter-not-stated')).toContain('"grey"');
    const filters = [{ name: 'grey', transmissions: [] }];
    const known = {
      ...PLAIN,
      filters: [
        {
          ...filters[0],
          transmissions: [{ wavelength_nm: 520, transmission: 0.1, standard_uncertainty: 0.001 }],
        },
      ],
    };
    expect(codesOf(studyOf(rows(['grey', '']), known))).not.toContain('filter-not-stated');
    expect(placesOf(rows(['grey', 'dark']), known)).toEqual([
      {
        code: 'cell-unknown-word',
        ...FILE,
        row: 4,
        column: 'filter',
        found: '"dark"',
        expected: 'grey',
      },
    ]);
  });
});

describe('a series of one meter', () => {
  const rows = (settings: readonly string[], meter = 'reference') =>
    `meter,reading_mW,setting_nm\n${settings.map((nm) => `${meter},46,${nm}`).join('\n')}\n`;

  test('is one of settings from two of them on, each run with its own', () => {
    expect(studyOf(rows(['510', '520'])).series[0]?.kind).toBe('setting');
    expect(placesOf(rows(['510', '510']))).toEqual([
      {
        code: 'row-inconsistent',
        ...FILE,
        row: 2,
        column: 'meter',
        found: '2 runs of the reference',
        expected:
          'runs of both meters turn about; or, to learn what a wavelength setting is worth, one meter under two or more values of setting_nm',
      },
    ]);
    expect(placesOf(rows(['510', '520', ''], 'candidate'))).toEqual([
      {
        code: 'cell-missing',
        ...FILE,
        row: 4,
        column: 'setting_nm',
        expected: 'the wavelength in nm that the meter was set to',
      },
    ]);
  });

  test('a run that is left out needs no setting', () => {
    const text = rows(['510', '520', ''])
      .replace(/\n/g, ',\n')
      .replace('setting_nm,', 'setting_nm,exclude');
    const left = text.replace('reference,46,,\n', 'reference,46,,head knocked\n');
    expect(studyOf(left).series[0]?.kind).toBe('setting');
  });
});

describe('what runs give cause to say', () => {
  test('a lap that begins with the other meter than stated: the first such', () => {
    const of = (meters: string) =>
      orderWarnings(
        'a',
        runsOf(meters, () => 46),
        'ABBA',
      );
    expect(of('RCCRRCCR')).toEqual([]);
    expect(of('RCRCCR')).toMatchObject([
      { code: 'order-differs', series: 'a', message: expect.stringContaining('lap 2') },
    ]);
    expect(of('RRCCR')).toEqual([]);
    expect(of('CRRC')[0]?.message).toContain('lap 1 of the series "a" starts with the candidate');
  });

  test('a setting that changes, of each meter by itself', () => {
    const of = (settings: readonly (number | null)[]) =>
      settingWarnings(
        'a',
        runsOf('RCRC', () => 46).map((run, i) => ({ ...run, setting_nm: settings[i] ?? null })),
      ).map(({ message }) => /setting of the (\w+) .* \((.*) nm\)/.exec(message)?.slice(1));
    expect(of([520, 638, 520, 638])).toEqual([]);
    expect(of([520, null, 532, null])).toEqual([['reference', '520 or 532']]);
    expect(of([520, 1, 520, 2])).toEqual([['candidate', '1 or 2']]);
    expect(of([520, null, null, null])).toEqual([]);
  });

  test('readings above a rating: rows, peaks included, at most five named', () => {
    const of = (readings: readonly number[], peak = '', rated_max_mW: number | null = 46) => {
      const faults: ErrorParts[] = [];
      const warnings: Warning[] = [];
      const text = `meter,reading_mW,peak_mW\n${readings.map((mW) => `reference,${mW},${peak}`).join('\n')}\ncandidate,900,\n`;
      const { entries } = runEntries(text, faults, warnings)!;
      expect(faults).toEqual([]);
      const settings = checkedSettings({
        ...PLAIN,
        reference: { ...PLAIN.reference, ...(rated_max_mW === null ? {} : { rated_max_mW }) },
      });
      return ratedWarnings('a', entries, settings).map(({ message }) =>
        /has (.*) above the 46 mW .*, (rows? .*)\)\./.exec(message)?.slice(1),
      );
    };
    expect(of([46, 45])).toEqual([]);
    expect(of([47, 45])).toEqual([['1 reading', 'row 2']]);
    expect(of([45, 44], '47')).toEqual([['2 readings', 'rows 2, 3']]);
    expect(of([47, 47, 47, 47, 47])).toEqual([['5 readings', 'rows 2, 3, 4, 5, 6']]);
    expect(of([47, 47, 47, 47, 47, 47])).toEqual([['6 readings', 'rows 2, 3, 4, 5, 6 …']]);
    expect(of([47], '', null)).toEqual([]);
  });
});

describe('times', () => {
  test('that run backwards name both rows and by how much', () => {
    const error = errorOf(() =>
      studyOf(
        'meter,reading_mW,started_at\nreference,46,100\ncandidate,41,130\nreference,46,129\n',
      ),
    );
    expect(error.message).toContain('this row starts 1 s before row 3');
    expect(error).toMatchObject({ code: 'row-inconsistent', row: 4, column: 'started_at' });
  });

  test('to the microsecond, without the noise of the subtraction', () => {
    const runs = studyOf(
      'meter,reading_mW,started_at\nreference,46,0.1\ncandidate,41,0.3\nreference,46,0.7000004\n',
    ).series[0]!.runs;
    expect(runs.map(({ time_s }) => time_s)).toEqual([0, 0.2, 0.6]);
  });

  test('of one run alone tell nothing and are not warned of', () => {
    const study = studyOf('series,meter,reading_mW,started_at\na,reference,46,7\na,candidate,,\n');
    expect(study.series[0]).toMatchObject({ timed: false });
    expect(codesOf(study)).not.toContain('times-all-equal');
  });
});

describe('a series taken up again', () => {
  const of = (hours: number) =>
    `series,meter,reading_mW,started_at\na,reference,46,0\na,candidate,41,60\na,reference,46,${60 + 3600 * hours}\na,candidate,41,${120 + 3600 * hours}\n`;

  test('more than six hours later is a new one', () => {
    expect(studyOf(of(6)).series.map(({ id }) => id)).toEqual(['a']);
    const later = studyOf(of(6.05));
    expect(later.series.map(({ id, runs }) => [id, runs.length])).toEqual([
      ['a', 2],
      ['a (2)', 2],
    ]);
    expect(warningOf(later, 'series-resumed')).toContain('row 4 comes 6.1 h after row 3');
  });

  test('gets the first number that nobody typed', () => {
    const text = `${of(7)}a (2),reference,46,0\na (2),candidate,41,60\n`;
    expect(studyOf(text).series.map(({ id }) => id)).toEqual(['a', 'a (3)', 'a (2)']);
  });

  test('sooner, behind another one, is refused; without a name among names as well', () => {
    const back =
      'series,meter,reading_mW\na,reference,46\na,candidate,41\nb,reference,46\nb,candidate,41\na,reference,46\n,candidate,41\n';
    expect(
      placesOf(back).map(({ code, row, column, found }) => [code, row, column, found]),
    ).toEqual([
      ['row-inconsistent', 6, 'series', '"a"'],
      ['cell-missing', 7, 'series', undefined],
    ]);
  });
});
