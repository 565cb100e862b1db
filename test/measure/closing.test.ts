/** The end of a series and its table: what is asked, and what is said. */
import { describe, expect, test } from 'vitest';
import { alarms } from '../../src/measure/alarms.js';
import { readBench, seriesInHand } from '../../src/measure/bench.js';
import { closedSentence } from '../../src/measure/closedSeries.js';
import { closingOutlook } from '../../src/measure/closingOutlook.js';
import { plotPoints } from '../../src/measure/plotPoints.js';
import { numberText, sheetOf, withCells, withRowsBelow } from '../../src/measure/sheet.js';
import { inSeries, isClosed, rowsOf } from '../../src/measure/sheetRows.js';
import { startedText, startTime } from '../../src/measure/startedText.js';
import { errorOf } from '../record/support.js';
import { runsOf, seriesOf } from '../series/runs.js';
import { studyOf } from '../seriesStudy.js';

const STUDY = {
  reference: { name: 'Bench', expanded_uncertainty_percent: 3, coverage_factor: 2 },
  candidate: { name: 'Drawer' },
  sources: [{ name: 'green', wavelength_nm: 520 }],
  tolerance_percent: 5,
};

describe('whether the laps are enough', () => {
  /** Laps of a steady source, the readings a little apart. */
  const table = (laps: number, id = 'a') =>
    Array.from({ length: laps }, (_, i) => [
      `${id},green,reference,${(46 + 0.1 * ((i * 7) % 5)).toFixed(1)}`,
      `${id},green,candidate,${(41 + 0.1 * ((i * 3) % 5)).toFixed(1)}`,
    ]).flat();
  const outlook = (rows: readonly string[], wanted: number, study: object = STUDY) => {
    const bench = readBench({
      study,
      runs: `series,source,meter,reading_mW\n${rows.join('\n')}\n`,
    });
    return closingOutlook(bench.study!, seriesInHand(bench)!, bench, wanted);
  };

  test('of one lap nothing can be said, and a block more is offered', () => {
    expect(outlook(table(1), 0.05)).toEqual({
      block: 1,
      more: 1,
      sentences: [
        '1 laps of "a" count.',
        'They are too few to say what a corrected reading will be known to.',
      ],
    });
    expect(outlook(table(1), 0.05, { ...STUDY, protocol: { order: 'ABBA' } }).block).toBe(2);
    const four = { ...STUDY, protocol: { order: 'ABBA-BAAB' } };
    expect(outlook(table(1), 0.05, four).block).toBe(4);
  });

  test('a wide wish is met, one below the certificate by no number of laps', () => {
    const met = outlook(table(6), 0.5);
    expect([met.more, met.sentences[0], met.sentences[2]]).toEqual([
      0,
      '6 laps of "a" count.',
      'That is enough: more laps are not needed.',
    ]);
    expect(met.sentences[1]).toMatch(
      /^With them a later reading, corrected, will be known to ± .* in 80 of 100 comparisons; wanted is ± 50 %\.$/,
    );
    // U of the certificate alone is 3 %
    const never = outlook(table(6), 0.03);
    expect(never.more).toBeNull();
    expect(never.sentences[2]).toMatch(
      /^No number of laps up to 40 brings that; the best of them gives ± .*\. The certificate of the reference, the placement of the heads and the displays do not shrink with laps\.$/,
    );
    const bare = { ...STUDY, reference: { name: 'Bench' } };
    expect(outlook(table(6), 0.0001, bare).sentences[2]).toContain(
      '. The placement of the heads and the displays do not shrink',
    );
  });

  test('every series that the table plans for the source counts as a seating', () => {
    const later = 'b,green,reference,\nb,green,candidate,'.split('\n');
    expect(outlook([...table(6), ...later], 0.5).sentences[1]).toMatch(
      /^With 2 such series a later/,
    );
    const other = 'b,red,reference,\nb,red,candidate,'.split('\n');
    const study = { ...STUDY, sources: [...STUDY.sources, { name: 'red', wavelength_nm: 638 }] };
    expect(outlook([...table(6), ...other], 0.5, study).sentences[1]).toMatch(/^With them a later/);
  });

  test('a step of one display alone says no more than none', () => {
    const stepped = (reference: object, candidate: object) =>
      outlook(table(6), 0.5, {
        ...STUDY,
        reference: { ...STUDY.reference, ...reference },
        candidate: { ...STUDY.candidate, ...candidate },
      });
    const none = stepped({}, {});
    expect(stepped({ resolution_mW: 1 }, {})).toEqual(none);
    expect(stepped({}, { resolution_mW: 1 })).toEqual(none);
    expect(stepped({ resolution_mW: 1 }, { resolution_mW: 1 })).not.toEqual(none);
  });

  test('laps that are left out do not count', () => {
    const bench = readBench({
      study: STUDY,
      runs: `series,source,meter,reading_mW,exclude\n${table(6)
        .map((row, i) => `${row},${i === 3 ? 'knocked head' : ''}`)
        .join('\n')}\n`,
    });
    const { sentences } = closingOutlook(bench.study!, seriesInHand(bench)!, bench, 0.5);
    expect(sentences[0]).toBe('5 laps of "a" count.');
  });
});

describe('what a closed series says', () => {
  const closed = (laps: readonly (readonly [number, number])[]) => {
    const study = studyOf([{ id: 'a', nm: 520, laps }]);
    return closedSentence(study, study.series[0]!);
  };
  const around = (r: number, c: number): (readonly [number, number])[] =>
    [0, 0.1, -0.1, 0.05, -0.05].map((by) => [r + by, c - by]);

  test('K, its laps, and the side on which the candidate reads', () => {
    const low = closed(around(50, 40));
    expect(low).toMatch(
      /^Series "a": K = 1\.2\d+ ± 0\.\d+, relative to this reference alone and for this placement, from 5 laps\. The candidate reads 20 % low of the reference\.$/,
    );
    expect(closed(around(40, 50))).toContain('The candidate reads 25 % high of the reference.');
  });

  test('that entries look like a slip', () => {
    const laps = around(50, 40).map(([r, c], i): readonly [number, number] =>
      i === 2 ? [r, 10 * c] : [r, c],
    );
    expect(closed(laps)).toContain('1 entry looks like a slip; until settled, K is as typed.');
  });

  test('that there is no K, and why', () => {
    expect(closed([[50, 40]])).toMatch(/^Series "a": no K\. ./);
  });
});

describe('alarms', () => {
  const study = studyOf([{ id: 'a', nm: 520, laps: [[80, 70]] }]);
  const of = (label_max_mW: number | null, run: object = {}) =>
    alarms(
      {
        ...study,
        sources: study.sources.map((one) => ({ ...one, label_max_mW })),
        series: study.series.map((one) => ({
          ...one,
          runs: one.runs.map((each, i) => (i === 0 ? { ...each, ...run } : each)),
        })),
      },
      study.series[0]!,
    ).length;

  test('of a label begin above it, with peaks, and in runs that are left out', () => {
    expect([of(null), of(80), of(79.9)]).toEqual([0, 0, 1]);
    expect([of(85, { peak_mW: 85 }), of(85, { peak_mW: 85.1 })]).toEqual([0, 1]);
    expect(of(75, { exclude: 'knocked head' })).toBe(1);
  });

  test('of a rating begin above it: the peak with its zero', () => {
    const rated = (peak_mW: number | null, zero_mW: number | null) =>
      alarms(
        { ...study, reference: { ...study.reference, rated_max_mW: 90 } },
        {
          ...study.series[0]!,
          runs: study.series[0]!.runs.map((run) => ({ ...run, peak_mW, zero_mW })),
        },
      ).length;
    expect([rated(null, null), rated(null, 10), rated(null, 10.1)]).toEqual([0, 0, 1]);
    expect([rated(90, null), rated(90.1, null), rated(89, 2)]).toEqual([0, 1, 1]);
  });
});

describe('the table as text', () => {
  test('a row gets its cells, and those it lacks before them', () => {
    const sheet = sheetOf('meter,reading_mW,note\nreference,46\ncandidate\n');
    expect(withCells(sheet, 3, { note: 'x' })).toBe(
      'meter,reading_mW,note\nreference,46\ncandidate,,x\n',
    );
    expect(withCells(sheet, 9, { note: 'x' })).toBe(
      'meter,reading_mW,note\nreference,46\ncandidate\n',
    );
  });

  test('a heading is added once, behind the last that says something, below blank lines', () => {
    const sheet = sheetOf('\nmeter;reading_mW;;\nreference;46;;\ncandidate;41;;\n');
    expect(withCells(sheet, 3, { exclude: 'x', checked: 'y' })).toBe(
      '\nmeter;reading_mW;exclude;checked\nreference;46;x;y\ncandidate;41;;\n',
    );
    expect(withRowsBelow(sheet, 4, [{ note: 'a' }, { note: 'b', meter: 'reference' }])).toBe(
      '\nmeter;reading_mW;note\nreference;46;;\ncandidate;41;;\n;;a\nreference;;b\n',
    );
  });

  test('a mark of the byte order and a line sep= stay in front, line ends as they were', () => {
    const sheet = sheetOf('\uFEFFsep=;\r\nmeter;reading_mW\r\nreference;46\r\n');
    expect([sheet.head, sheet.newline, sheet.records]).toEqual([
      '\uFEFFsep=;\r\n',
      '\r\n',
      ['meter;reading_mW', 'reference;46'],
    ]);
    expect(sheetOf('meter,reading_mW\nreference,46').newline).toBe('\n');
  });

  test.each([
    // A comma where the table has commas alone and does not separate by them
    ['1.5', 'meter;reading_mW\nreference;46,2\n', '1,5'],
    ['1,5', 'meter;reading_mW\nreference;46.2\n', '1.5'],
    ['1.5', 'meter;reading_mW\nreference;46\n', '1.5'],
    ['1.5', 'meter;reading_mW;zero_mW\nreference;46,2;0.5\n', '1.5'],
    ['1,5', 'meter,reading_mW\nreference,"46,2"\n', '1.5'],
    [' 46 ', 'meter;reading_mW\nreference;46,2\n', '46'],
  ])('a number %s in %j is written %s', (typed, text, expected) => {
    expect(numberText(sheetOf(text), typed)).toBe(expected);
  });

  test('a table of no layout, and one without its columns, are refused', () => {
    expect(errorOf(() => sheetOf('')).code).toBe('no-rows');
    expect(errorOf(() => sheetOf('colour\ngreen\n')).code).toBe('column-missing');
    expect(errorOf(() => sheetOf('meter,note\nreference,x\n'))).toMatchObject({
      code: 'column-missing',
      column: 'reading_mW',
    });
  });
});

describe('rows as the bench sees them', () => {
  const SOURCES = [
    { name: 'green', wavelength_nm: 520 },
    { name: 'red', wavelength_nm: 638 },
  ].map((one) => ({
    ...one,
    label_class: null,
    label_max_mW: null,
    emission: null,
    beam_diameter_mm: null,
  }));
  const rows = (text: string, sources = SOURCES) => rowsOf(sheetOf(text), sources);

  test('as whole records', () => {
    expect(
      rows(
        'series,source,wavelength_nm,filter,meter,reading_mW,setting_nm,started_at,exclude,note\na,red,,grey,CANDIDATE,41,638,10:00:00,knocked,x\n',
      ),
    ).toEqual([
      {
        row: 2,
        series: 'a',
        source: 'red',
        wavelength_nm: 638,
        filter: 'grey',
        meter: 'candidate',
        reading: '41',
        unit: 'mW',
        setting: '638',
        started: '10:00:00',
        exclude: 'knocked',
        note: 'x',
      },
    ]);
  });

  test.each([
    ['', '', 'green', 520],
    ['red', '', 'red', 638],
    ['red', '640', 'red', 640],
    ['red', '640,5', 'red', 640.5],
    ['red', '0', 'red', 638],
    ['red', 'x', 'red', 638],
    ['blue', '', 'blue', null],
    ['blue', '450', 'blue', 450],
  ])('source "%s" at "%s": %s, %s nm', (source, nm, name, wavelength_nm) => {
    const [row] = rows(`source;wavelength_nm;meter;reading_mW\n${source};${nm};reference;46\n`);
    expect([row?.source, row?.wavelength_nm]).toEqual([name, wavelength_nm]);
  });

  test('without any source there is no name and no wavelength', () => {
    const [row] = rows('meter,reading_mW\nboth,46\n', []);
    expect([row?.source, row?.wavelength_nm, row?.meter]).toEqual(['', null, null]);
  });

  test('a name that comes back is a group of its own; closed is closed in any row of it', () => {
    const groups = inSeries(
      rows(
        'series,meter,reading_mW,note\na,reference,1,series closed\na,candidate,2,\nb,reference,3,\na,reference,4,windy; series closed\n',
      ),
    );
    expect(groups.map(({ series, rows: own }) => [series, own.map(({ row }) => row)])).toEqual([
      ['a', [2, 3]],
      ['b', [4]],
      ['a', [5]],
    ]);
    expect(groups.map(isClosed)).toEqual([true, false, true]);
  });
});

describe('when a run started, as the rows above say it', () => {
  const bench = (above: string) =>
    readBench({
      study: STUDY,
      runs: `meter,reading_mW,started_at\nreference,46,${above}\ncandidate,,\n`,
    });
  const at = { started_ms: Date.UTC(2026, 2, 14, 18, 0, 7), ahead_min: 90 };
  const said = (above: string, clock: object = {}) => {
    const one = bench(above);
    return startedText(one, one.rows[1]!, { ...at, ...clock });
  };

  test.each([
    ['2026-03-14T18:00:00Z', {}, '2026-03-14T19:30:07+01:30'],
    ['2026-03-14T18:00:00Z', { ahead_min: 0 }, '2026-03-14T18:00:07+00:00'],
    ['2026-03-14T18:00:00Z', { ahead_min: -5 }, '2026-03-14T17:55:07-00:05'],
    ['2026-03-14T18:00:00Z', { ahead_min: 600 }, '2026-03-15T04:00:07+10:00'],
    ['2026-03-14T18:00:00', {}, '2026-03-14T19:30:07'],
    ['19:00:00', {}, '19:30:07'],
    ['', {}, null],
    ['', { started_ms: null }, null],
  ])('below "%s": %j is %s', (above, clock, expected) => {
    expect(said(above, clock)).toBe(expected);
  });

  test('has date, time and zone in the first run, and may be left out there', () => {
    const one = readBench({
      study: STUDY,
      runs: 'meter,reading_mW,started_at\nreference,,\ncandidate,,\n',
    });
    expect(startedText(one, one.rows[0]!, at)).toBe('2026-03-14T19:30:07+01:30');
    expect(startedText(one, one.rows[0]!, { ...at, started_ms: null })).toBeNull();
    expect(startTime(one, 2)).toBe('may');
  });

  test.each([
    ['75', {}],
    ['19:00:00', { started_ms: null }],
  ])('cannot be said below "%s" with %j', (above, clock) => {
    expect(errorOf(() => said(above, clock))).toMatchObject({
      code: 'row-inconsistent',
      file: 'runs.csv',
      row: 3,
      column: 'started_at',
    });
  });
});

test('points of the plot, as whole records', () => {
  const runs = runsOf('RCRC', ({ place }) => [50, 40, 0, 30][place]!).map((run) => ({
    ...run,
    exclude: run.run === 4 ? 'knocked head' : null,
  }));
  expect(plotPoints(seriesOf(runs))).toEqual([
    { run: 1, meter: 'reference', percent: 0, excluded: false },
    { run: 2, meter: 'candidate', percent: 0, excluded: false },
    { run: 4, meter: 'candidate', percent: -25, excluded: true },
  ]);
  expect(plotPoints(seriesOf([]))).toEqual([]);
});
