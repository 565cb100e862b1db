/** The next run as a whole record, and each thing that is said of it. */
import { describe, expect, test } from 'vitest';
import { readBench, seriesInHand } from '../../src/measure/bench.js';
import { enterRun } from '../../src/measure/enterRun.js';
import { settingAbove } from '../../src/measure/nextRun.js';
import { CAUTIONS } from '../../src/plan/runSheetText.js';
import { parseStudy } from '../../src/record/parseStudy.js';
import { errorOf, faultsOf } from '../record/support.js';
import { entryOf, stateOf, written } from './playing.js';

const SOURCES = [
  { name: 'green', wavelength_nm: 520 },
  { name: 'red', wavelength_nm: 638 },
];
const STUDY = {
  reference: { name: 'Bench', wavelength_setting: true },
  candidate: { name: 'Drawer', wavelength_setting: false },
  sources: SOURCES,
};
const stepOf = (text: string, study: object = STUDY) => {
  const { step } = stateOf(text, study);
  if (step.do !== 'run') throw new Error(`No run is next, but ${step.do}.`);
  return step;
};

test('a run in the middle of the second series, as a whole', () => {
  const text =
    'series,source,meter,reading_W,zero_W\na,green,reference,0.046,\na,green,candidate,0.041,\nb,red,candidate,0.04,\nb,red,reference,,\nb,red,reference,,\n';
  const closed = text.replace('zero_W', 'zero_W,note').replace('0.041,', '0.041,,series closed');
  expect(stepOf(closed)).toEqual({
    do: 'run',
    row: 5,
    series: 'b',
    source: 'red',
    wavelength_nm: 638,
    meter: 'reference',
    meter_name: 'Bench',
    run: 2,
    runs: 3,
    lap: 1,
    laps: 2,
    unit: 'W',
    asks: { setting: true, zero: true, peak: false },
    set: 'set to 638 nm',
    read_at_s: null,
    before: null,
    cautions: ['"red", 638 nm. No class is stated.', ...CAUTIONS],
  });
});

describe('before the first run of a series', () => {
  const before = (series: readonly (readonly [string, string])[]) => {
    const rows = series.map(([id, source], i) =>
      i === series.length - 1
        ? `${id},${source},reference,,\n`
        : `${id},${source},reference,46,\n${id},${source},candidate,41,series closed\n`,
    );
    return stepOf(`series,source,meter,reading_mW,note\n${rows.join('')}`).before;
  };
  const WARM = 'Let it warm up before the first run.';

  test.each([
    [[['a', 'green']], `Beam blocked, heads in place. ${WARM}`],
    [
      [
        ['a', 'green'],
        ['b', 'green'],
      ],
      'Block the beam. Take both heads out and put them back, as for a later use.',
    ],
    [
      [
        ['a', 'green'],
        ['b', 'red'],
      ],
      `Switch the laser off and change to "red". Put both heads in place anew. ${WARM}`,
    ],
    // The series just before counts, not the first
    [
      [
        ['a', 'green'],
        ['b', 'red'],
        ['c', 'green'],
      ],
      `Switch the laser off and change to "green". Put both heads in place anew. ${WARM}`,
    ],
  ] as const)('%j', (series, expected) => {
    expect(before(series)).toBe(expected);
  });
});

describe('what to set the meter to', () => {
  const of = (wavelength_setting: boolean | null, rows: string) => {
    const study = { ...STUDY, reference: { name: 'Bench', wavelength_setting } };
    const { asks, set } = stepOf(`source,meter,reading_mW,setting_nm\n${rows}`, study);
    return [asks.setting, set];
  };
  const FIRST = 'green,reference,,\n';

  test('is asked of a meter that has a setting, and of no other', () => {
    expect(of(true, FIRST)).toEqual([true, 'set to 520 nm']);
    expect(of(false, FIRST)).toEqual([false, null]);
    expect(of(null, FIRST)).toEqual([false, 'if it has a wavelength setting: 520 nm']);
  });

  test('is known where it is planned, or was noted for this meter above', () => {
    expect(of(true, 'green,reference,,532\n')).toEqual([false, 'set to 532 nm']);
    expect(of(true, 'green,reference,46,510\ngreen,candidate,41,\ngreen,reference,,\n')).toEqual([
      false,
      'set to 510 nm',
    ]);
    expect(of(true, 'green,reference,46,510\ngreen,candidate,41,\ngreen,reference,,532\n')).toEqual(
      [false, 'set to 532 nm'],
    );
    expect(of(true, 'green,candidate,41,510\ngreen,reference,,\n')).toEqual([
      true,
      'set to 520 nm',
    ]);
    // The latest counts
    expect(
      of(
        true,
        'green,reference,46,510\ngreen,reference,46,532\ngreen,reference,,\ngreen,candidate,,\n',
      ),
    ).toEqual([false, 'set to 532 nm']);
  });

  test('is asked for every time in a series of one meter, which compares settings', () => {
    const compares = 'set to one of the wavelengths that this series compares';
    expect(of(true, 'green,reference,,\ngreen,reference,,\n')).toEqual([true, compares]);
    expect(of(true, 'green,reference,46,510\ngreen,reference,,\n')).toEqual([true, compares]);
    expect(of(true, 'green,reference,46,510\ngreen,reference,,532\n')).toEqual([
      false,
      'set to 532 nm',
    ]);
  });

  test('a series of one meter under two settings is measured from the first run to the last', () => {
    let runs = `source,meter,reading_mW,setting_nm\n${'green,reference,,\n'.repeat(4)}`;
    const said = ['638', '520', '520', '638'].map((setting, i) => {
      const state = stateOf(runs, STUDY);
      runs = written(
        enterRun(
          { study: STUDY, runs },
          {
            ...entryOf(state, { meter: 'reference', reading: `4${i}`, zero: '', peak: '' }, i),
            setting,
          },
        ),
      );
      return parseStudy(STUDY, { runs }).series[0]?.kind;
    });
    expect(said).toEqual(['comparison', 'setting', 'setting', 'setting']);
    expect(stateOf(runs, STUDY).step).toMatchObject({
      do: 'close',
      more: 0,
      sentences: [
        '"series 1" compares wavelength settings of one meter: 2 runs at 638 nm, 2 runs at 520 nm.',
      ],
    });
    expect(runs.split('\n').map((row) => row.split(',').slice(0, 4).join())).toEqual([
      'source,meter,reading_mW,setting_nm',
      'green,reference,40,638',
      'green,reference,41,520',
      'green,reference,42,520',
      'green,reference,43,638',
      '',
    ]);
  });

  test('which without its setting, or with one setting to the end, has nothing to compare', () => {
    const refusalOf = (rows: string) =>
      errorOf(() => parseStudy(STUDY, { runs: `source,meter,reading_mW,setting_nm\n${rows}` }));
    const [none, one] = ['green,reference,46,\ngreen,reference,,\n', 'green,reference,46,520\n'];
    expect(refusalOf(none).message).toContain('nothing to compare');
    expect(refusalOf(one).message).toContain('nothing to compare');
  });

  test('is taken over by the row from the run of its meter above, in its series', () => {
    const bench = readBench({
      study: STUDY,
      runs: 'series,source,meter,reading_mW,setting_nm\na,green,reference,46,510\na,green,candidate,41,\na,green,reference,,532\na,green,reference,,\na,green,candidate,,\nb,green,reference,,\n',
    });
    expect([2, 3, 4, 5, 6, 7, 99].map((row) => settingAbove(bench, row))).toEqual([
      '510',
      '',
      '532',
      // A planned setting of a run that nobody measured tells nothing
      '510',
      '',
      '',
      '',
    ]);
  });
});

describe('the caution in front', () => {
  test.each([
    [{}, '"green", 520 nm. No class is stated.'],
    [
      { label_class: '3R', label_max_mW: 5 },
      '"green", 520 nm. The label says class 3R and 5 mW; do not rely on it.',
    ],
    [{ label_class: '3R' }, '"green", 520 nm. The label says class 3R; do not rely on it.'],
    [{ label_max_mW: 5 }, '"green", 520 nm. No class is stated.'],
    [
      { wavelength_nm: 808 },
      '"green", 808 nm: invisible or nearly so, and no less harmful. No class is stated.',
    ],
    [
      { wavelength_nm: 355 },
      '"green", 355 nm: invisible or nearly so, and no less harmful. No class is stated.',
    ],
  ])('with %j', (label, expected) => {
    const sources = [{ ...SOURCES[0], ...label }, SOURCES[1]];
    const { cautions } = stepOf('source,meter,reading_mW\ngreen,reference,\n', {
      ...STUDY,
      sources,
    });
    expect(cautions).toEqual([expected, ...CAUTIONS]);
  });

  test('of a source of which nothing is known names no wavelength', () => {
    const { sources: _, ...bare } = STUDY;
    const step = stepOf('source,meter,reading_mW\ngreen,reference,\n', bare);
    expect(step.cautions[0]).toBe('"green". No class is stated.');
    expect([step.wavelength_nm, step.set, step.asks.setting]).toEqual([null, null, false]);
  });
});

describe('planned rows that nobody could measure', () => {
  const faults = (rows: string, study: object = STUDY) =>
    faultsOf(errorOf(() => readBench({ study, runs: `source,meter,reading_mW\n${rows}` }))).map(
      ({ message: _, ...parts }) => parts,
    );

  test('are named, each with its place', () => {
    const place = { code: 'cell-unknown-word', file: 'runs.csv' };
    expect(faults('green,reference,\ngreen,both,\nblue,candidate,\n')).toEqual([
      { ...place, row: 3, column: 'meter', expected: 'reference or candidate' },
      { ...place, row: 4, column: 'source', found: '"blue"', expected: 'green, red' },
    ]);
  });

  test('and a study that lists no sources knows no wrong one', () => {
    const { sources: _, ...bare } = STUDY;
    const bench = readBench({
      study: bare,
      runs: 'source,meter,reading_mW,wavelength_nm\nblue,reference,,450\n',
    });
    expect([bench.study, bench.open, seriesInHand(bench)]).toEqual([null, null, null]);
    expect(bench.rows.map(({ source, wavelength_nm }) => [source, wavelength_nm])).toEqual([
      ['blue', 450],
    ]);
  });
});

test('the series in hand is that of the last measured row', () => {
  const runs =
    'series,source,meter,reading_mW\na,green,reference,46\na,green,candidate,41\nb,red,reference,40\nb,red,candidate,\nc,red,reference,\n';
  const bench = readBench({ study: STUDY, runs });
  expect(bench.open).toMatchObject({ series: 'b', rows: [{ row: 4 }, { row: 5 }] });
  expect(seriesInHand(bench)?.id).toBe('b');
  expect(bench.groups.map(({ series, rows }) => [series, rows.length])).toEqual([
    ['a', 2],
    ['b', 2],
    ['c', 1],
  ]);
});

describe('what the state tells', () => {
  const TWO =
    'series,source,meter,reading_mW,setting_nm,exclude\na,green,reference,46,520,\na,green,candidate,41,,\na,green,reference,46.1,532,\na,green,candidate,41.1,,knocked head\n';

  test('each written run as it stands in the file', () => {
    const { runs, plot } = stateOf(`${TWO}a,green,reference,,,\n`, STUDY);
    expect(runs).toEqual([
      { row: 2, run: 1, meter: 'reference', shown: '46 mW', exclude: null },
      { row: 3, run: 2, meter: 'candidate', shown: '41 mW', exclude: null },
      { row: 4, run: 3, meter: 'reference', shown: '46.1 mW', exclude: null },
      { row: 5, run: 4, meter: 'candidate', shown: '41.1 mW', exclude: 'knocked head' },
    ]);
    expect(plot.map(({ run }) => run)).toEqual([1, 2, 3, 4]);
  });

  test('notices of this series and of the whole, none of another', () => {
    const notices = (text: string) =>
      stateOf(text, STUDY).notices.filter((one) => one.includes('wavelength setting'));
    expect(notices(`${TWO}a,green,reference,,,\n`)).toEqual([
      expect.stringContaining(
        'The wavelength setting of the reference changes within the series "a"',
      ),
    ]);
    const closed = TWO.replace('exclude\n', 'exclude,note\n').replace(
      'knocked head',
      'knocked head,series closed',
    );
    expect(notices(`${closed}b,red,reference,40,,,\nb,red,candidate,,,,\n`)).toEqual([]);
    // Of the whole: no tolerance is stated
    const all = stateOf(TWO, STUDY).notices;
    expect(all.filter((one) => one.includes('tolerance_percent'))).toHaveLength(1);
  });

  test('no plot, no repeatability, no question and no alarm before the first run', () => {
    const { title, step, ...rest } = stateOf('source,meter,reading_mW\ngreen,reference,\n', STUDY);
    expect([title, step.do]).toEqual(['Drawer against Bench', 'run']);
    expect({ ...rest, filmable: rest.filmable.length }).toEqual({
      runs: [],
      filmable: 1,
      plot: [],
      repeatability: '',
      questions: [],
      alarms: [],
      notices: [],
      closed: [],
    });
  });
});
