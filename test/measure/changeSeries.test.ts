/** Runs taken back, series closed, laps added: every bound, and the rows as they are written. */
import { describe, expect, test } from 'vitest';
import type { Answer } from '../../src/measure/answer.js';
import { addLaps, closeSeries, takeBack } from '../../src/measure/changeSeries.js';
import { enterRun } from '../../src/measure/enterRun.js';
import { filmRun } from '../../src/measure/filmRun.js';
import { parseStudy } from '../../src/record/parseStudy.js';
import { written } from './playing.js';

const STUDY = {
  reference: { name: 'Bench' },
  candidate: { name: 'Drawer' },
  sources: [
    { name: 'green', wavelength_nm: 520 },
    { name: 'red', wavelength_nm: 638 },
  ],
};
const HEAD = 'series,source,meter,reading_mW,exclude,note\n';
const DONE = `${HEAD}a,green,reference,46,,\na,green,candidate,41,,windy\n`;
const files = (runs: string, study: object = STUDY) => ({ study, runs });
const said = (answer: Answer) => (answer.kind === 'refused' ? answer.message : answer.kind);
const lines = (answer: Answer) => written(answer).trimEnd().split('\n');

describe('a run taken back', () => {
  const back = (runs: string, row: number, reason = 'knocked head') =>
    takeBack(files(runs), { row, reason });

  test('has the reason in its row, and nothing else changes', () => {
    expect(lines(back(DONE, 3))).toEqual([
      ...DONE.split('\n').slice(0, 2),
      'a,green,candidate,41,knocked head,windy',
    ]);
  });

  test.each([
    [DONE, 1, 'knocked head', 'No run is written in that row.'],
    [DONE, 4, 'knocked head', 'No run is written in that row.'],
    [`${DONE}a,green,candidate,,,\n`, 4, 'knocked head', 'No run is written in that row.'],
    [
      DONE.replace('46,,', '46,clipped beam,'),
      2,
      'knocked head',
      'The run is left out already: clipped beam',
    ],
    [DONE, 2, '  \n', 'A reason is needed: nothing is left out without one.'],
    [
      DONE.replace('windy', 'windy; series closed'),
      2,
      'knocked head',
      'Its series is closed and K has been seen. Where a reason of physics is remembered later, write it into runs.csv, and say so.',
    ],
  ])('is refused: %j, row %i, "%s"', (runs, row, reason, expected) => {
    expect(said(back(runs, row, reason))).toBe(expected);
  });

  test('of an open series goes while an earlier one is closed', () => {
    const two = `${DONE.replace('windy', 'series closed')}b,red,reference,40,,\nb,red,candidate,,,\n`;
    expect(back(two, 4).kind).toBe('written');
    expect(back(two, 2).kind).toBe('refused');
  });
});

describe('a series closed', () => {
  test('says so in the note of its last row, behind what stands there', () => {
    expect(lines(closeSeries(files(DONE)))[2]).toBe('a,green,candidate,41,,windy; series closed');
    expect(lines(closeSeries(files(DONE.replace('windy', ''))))[2]).toBe(
      'a,green,candidate,41,,series closed',
    );
  });

  test.each([
    ['nothing measured', `${HEAD}a,green,reference,,,\n`],
    ['a run to come', `${DONE}a,green,candidate,,,\n`],
    ['closed already', DONE.replace('windy', 'series closed')],
    [
      'the next one begun',
      `${DONE.replace('windy', 'series closed')}b,red,reference,40,,\nb,red,candidate,,,\n`,
    ],
  ])('%s: there is none to close', (_, runs) => {
    expect(said(closeSeries(files(runs)))).toBe('No series waits to be closed.');
  });
});

describe('laps added', () => {
  const added = (runs: string, laps: number, study: object = STUDY) =>
    addLaps(files(runs, study), { laps });

  test.each([0, -1, 1.5, 101, Number.NaN])('not %d of them', (laps) => {
    expect(said(added(DONE, laps))).toBe('Laps to add must be a whole number from 1 to 100.');
  });

  test('1 and 100 are', () => {
    expect(lines(added(DONE, 1))).toHaveLength(1 + 2 + 2);
    expect(lines(added(DONE, 100))).toHaveLength(1 + 2 + 200);
  });

  test('stand below the series with its names, in its order, each with its lap', () => {
    expect(lines(added(DONE, 2)).slice(3)).toEqual([
      'a,green,reference,,,"lap 2, added"',
      'a,green,candidate,,,"lap 2, added"',
      'a,green,reference,,,"lap 3, added"',
      'a,green,candidate,,,"lap 3, added"',
    ]);
    const order = { ...STUDY, protocol: { order: 'ABBA' } };
    expect(
      lines(added(DONE, 2, order))
        .slice(3)
        .map((line) => line.split(',')[2]),
    ).toEqual(['candidate', 'reference', 'reference', 'candidate']);
  });

  test('carry wavelength, filter and unit of the series where the table has them', () => {
    const study = { reference: {}, candidate: {} };
    const runs =
      'meter,reading,unit,wavelength_nm,filter\nreference,0.046,W,520,grey\ncandidate,0.041,W,520,grey\n';
    expect(lines(added(runs, 1, study)).slice(3)).toEqual([
      'reference,,W,520,grey,"lap 2, added"',
      'candidate,,W,520,grey,"lap 2, added"',
    ]);
    const bare = 'meter,reading_mW,wavelength_nm\nreference,46,520\ncandidate,41,520\n';
    expect(lines(added(bare, 1, study)).slice(3)).toEqual([
      'reference,,520,"lap 2, added"',
      'candidate,,520,"lap 2, added"',
    ]);
  });

  test('come to later series of the source that have not begun, to no other', () => {
    const later = (id: string, source: string) =>
      `${id},${source},reference,,,\n${id},${source},candidate,,,\n`;
    const all = `${DONE}${later('b', 'red')}${later('c', 'green')}`;
    expect(
      lines(added(all, 1))
        .slice(1)
        .map((line) => line.split(',')[0]),
    ).toEqual(['a', 'a', 'a', 'a', 'b', 'b', 'c', 'c', 'c', 'c']);
    // An earlier one of the source, which is closed, keeps its rows
    const after = `${HEAD}z,green,reference,46,,\nz,green,candidate,41,,series closed\n${DONE.slice(HEAD.length)}`;
    expect(
      lines(added(after, 1))
        .slice(1)
        .map((line) => line.split(',')[0]),
    ).toEqual(['z', 'z', 'a', 'a', 'a', 'a']);
  });

  test('not before the planned ones are done, and not to a closed series', () => {
    const waiting = 'Laps can be added when the planned ones are done.';
    expect(said(added(`${DONE}a,green,candidate,,,\n`, 1))).toBe(waiting);
    expect(said(added(DONE.replace('windy', 'series closed'), 1))).toBe(waiting);
    expect(said(added(`${HEAD}a,green,reference,,,\n`, 1))).toBe(waiting);
  });
});

describe('an entry', () => {
  const ENTRY = {
    row: 3,
    reading: '41',
    zero: '',
    peak: '',
    setting: '',
    started_ms: null,
    ahead_min: 0,
    checked: false,
  };
  const runs = 'source,meter,reading_mW,note\ngreen,reference,46,\ngreen,candidate,,lap 1\n';
  const entered = (more: object, text = runs) => enterRun(files(text), { ...ENTRY, ...more });

  test('fills the cells that were typed, and makes headings for them alone', () => {
    expect(lines(entered({}))).toEqual([
      'source,meter,reading_mW,note',
      'green,reference,46,',
      'green,candidate,41,lap 1',
    ]);
    expect(lines(entered({ zero: '0,5' }))[2]).toBe('green,candidate,41,lap 1,0.5');
    expect(lines(entered({ zero: '0,5' }))[0]).toBe('source,meter,reading_mW,note,zero');
    expect(lines(entered({ setting: '520' }))[0]).toBe('source,meter,reading_mW,note,setting_nm');
    expect(lines(entered({ checked: true }))[2]).toBe(
      'green,candidate,41,lap 1,"typed twice, as the display showed it"',
    );
  });

  test('keeps the unit of its row', () => {
    const text =
      'source,meter,reading,unit\ngreen,reference,0.046,W\ngreen,candidate,,uW\ngreen,reference,,\n';
    expect(lines(entered({ reading: '41000' }, text))[2]).toBe('green,candidate,41000,uW');
  });

  test.each([
    [{ row: 2 }, 'Another row is next by now, so nothing was written.'],
    [{ row: 4 }, 'Another row is next by now, so nothing was written.'],
    [{ reading: '' }, 'A plain number is needed, such as 46.2.'],
    [{ zero: 'x' }, 'A plain number is needed, such as 46.2.'],
    [{ peak: 'x' }, 'A plain number is needed, such as 46.2.'],
    [{ setting: 'x' }, 'A plain number is needed, such as 46.2.'],
  ])('with %j is refused', (more, expected) => {
    expect(said(entered(more))).toBe(expected);
  });

  test('in a table that is full is refused', () => {
    expect(said(entered({ row: 4 }, runs.replace('candidate,,', 'candidate,41,')))).toBe(
      'Another row is next by now, so nothing was written.',
    );
  });

  test('that looks like a slip is asked about without row and advice, an older one is not', () => {
    const table = (readings: readonly string[]) =>
      `source,meter,reading_mW\n${readings
        .map((reading, i) => `green,${i % 2 === 0 ? 'reference' : 'candidate'},${reading}`)
        .join('\n')}\n`;
    const good = ['46.2', '41.8', '46.1', '41.6', '46.3', '41.9', '46.0'];
    const asked = enterRun(files(table([...good, ''])), { ...ENTRY, row: 9, reading: '417' });
    expect(asked).toEqual({
      kind: 'question',
      quantity: 'reading',
      message:
        'The reading 417 mW of the candidate in the series "series 1" looks like 41.7 mW with the decimal point in another place.',
    });
    const old = table([...good.map((one, i) => (i === 2 ? '461' : one)), '']);
    expect(enterRun(files(old), { ...ENTRY, row: 9, reading: '41.7' }).kind).toBe('written');
  });
});

describe('a film', () => {
  const runs = 'series,source,meter,reading_mW\n,green,reference,46\n,green,candidate,41\n';
  const points = [0, 1, 2].map((elapsed_s) => ({ elapsed_s, reading: String(10 + elapsed_s) }));
  const film = (more: object = {}, of = points, row = 3) =>
    filmRun({ ...files(runs), ...more }, { row, points: of });

  test('needs three numbers, in any order', () => {
    expect(said(film({}, points.slice(1)))).toBe('A film needs 3 numbers or more.');
    expect(lines(film({}, [...points].reverse()))).toEqual([
      'series,run,meter,elapsed_s,reading_mW',
      'series 1,2,candidate,0,10',
      'series 1,2,candidate,1,11',
      'series 1,2,candidate,2,12',
    ]);
  });

  test('has thousandths of a second', () => {
    const of = [{ elapsed_s: -0.00049, reading: '1' }, ...points.slice(1)];
    expect(lines(film({}, of))[1]).toBe('series 1,2,candidate,0,1');
    const up = [{ elapsed_s: 0.0005, reading: '1' }, ...points.slice(1)];
    expect(lines(film({}, up))[1]).toBe('series 1,2,candidate,0.001,1');
  });

  test('goes below traces of other runs, with their separator, white space at the end apart', () => {
    const head = '\uFEFFrun;series;meter;elapsed_s;reading_mW\n1;series 1;reference;0;5\n \n';
    expect(written(film({ traces: head }))).toBe(
      '\uFEFFrun;series;meter;elapsed_s;reading_mW\n1;series 1;reference;0;5\n2;series 1;candidate;0;10\n2;series 1;candidate;1;11\n2;series 1;candidate;2;12\n',
    );
    expect(lines(film({ traces: ' \n' }))[0]).toBe('series,run,meter,elapsed_s,reading_mW');
  });

  test.each([
    [2, 'written'],
    [1, 'The run has to be written down before its film is.'],
    [4, 'The run has to be written down before its film is.'],
  ])('of row %i: %s', (row, expected) => {
    expect(said(film({}, points, row))).toBe(expected);
  });

  test('with a reading that is no plain number is refused, and so is a second one', () => {
    expect(said(film({}, [...points, { elapsed_s: 3, reading: '1e3' }]))).toBe(
      'A plain number is needed, such as 46.2.',
    );
    expect(said(film({ traces: written(film()) }))).toBe(
      'traces.csv has a trace of this run already, and nothing is written over.',
    );
    // Another run of the series is free
    expect(film({ traces: written(film()) }, points, 2).kind).toBe('written');
  });

  test('in microwatt becomes milliwatt, and can be read back', () => {
    const micro = runs.replace('reading_mW', 'reading_uW').replace(',46', ',46000');
    const text = written(
      filmRun(files(micro.replace(',41', ',41000')), {
        row: 3,
        points: points.map((one) => ({ ...one, reading: '41500,5' })),
      }),
    );
    expect(text.split('\n')[1]).toBe('series 1,2,candidate,0,41.5005');
    expect(
      parseStudy(STUDY, { runs: micro.replace(',41', ',41000'), traces: text }).traces[0],
    ).toEqual({
      series: 'series 1',
      run: 2,
      meter: 'candidate',
      elapsed_s: [0, 1, 2],
      reading_mW: [41.5005, 41.5005, 41.5005],
    });
  });
});
