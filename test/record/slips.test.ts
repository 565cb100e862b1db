import { describe, expect, test } from 'vitest';
import { findSlips } from '../../src/record/slips/findSlips.js';
import {
  decimalPlaces,
  exchangedDigits,
  movePoint,
  shownValue,
} from '../../src/record/slips/typedNumber.js';
import { withLikely } from '../../src/record/slips/withLikely.js';
import { withoutSuspects } from '../../src/record/slips/withoutSuspects.js';
import type { Study, Suspect } from '../../src/vocabulary.js';
import { errorOf, PLAIN, studyOf, TWO_SOURCES } from './support.js';

const ORDERED = { ...PLAIN, protocol: { order: 'reference-first' } };

/** A steady source on two meters, one row a lap. */
const LAPS: readonly (readonly [number, number])[] = [
  [46.2, 41.8],
  [46.1, 41.6],
  [46.3, 41.9],
  [46.0, 41.7],
  [46.2, 41.8],
  [46.1, 41.7],
];

type Lap = readonly [number | string, number | string];

const lapsText = (laps: readonly Lap[], more: readonly string[] = []) =>
  `reference_mW,candidate_mW${more.length > 0 ? ',exclude,checked' : ''}\n${laps
    .map((lap, i) => [...lap, ...(more.length > 0 ? [more[i] ?? ','] : [])].join())
    .join('\n')}\n`;

/** LAPS with single cells changed: row of the spreadsheet and column → what was typed. */
const typed = (cells: Readonly<Record<string, number | string>>): Lap[] =>
  LAPS.map(([reference, candidate], i) => [
    cells[`${i + 2}r`] ?? reference,
    cells[`${i + 2}c`] ?? candidate,
  ]);
const slipsOf = (laps: readonly Lap[]) => findSlips(studyOf(lapsText(laps), ORDERED));
const tidyText = (laps: readonly Lap[]) =>
  `meter,reading_mW\n${laps.map(([r, c]) => `reference,${r}\ncandidate,${c}`).join('\n')}\n`;

const brief = (suspects: readonly Suspect[]) =>
  suspects.map(({ rows, meter, kind, found, likely }) => [
    rows.join('+'),
    meter,
    kind,
    found,
    likely,
  ]);

test('a lap whose rows are exchanged with their peaks is one suspect', () => {
  const rows = LAPS.flatMap(([r, c], i) => {
    const [first, second] = i === 2 ? [c, r] : [r, c];
    return [
      `reference,${first},${(first * 1.02).toFixed(1)}`,
      `candidate,${second},${(second * 1.02).toFixed(1)}`,
    ];
  });
  const study = studyOf(`meter,reading_mW,peak_mW\n${rows.join('\n')}\n`, PLAIN);
  expect(brief(findSlips(study))).toEqual([['6+7', 'reference', 'exchanged', 41.9, 46.3]]);
});

describe('digits as typed', () => {
  test('the point moves without a rounding error', () => {
    expect(
      [462, 4.62, 0.0462, 46200].map((value, i) => movePoint(value, [-1, 1, 3, -3][i]!)),
    ).toEqual([46.2, 46.2, 46.2, 46.2]);
    expect(movePoint(1.1, 1)).toBe(11);
    expect(movePoint(0.07, 2)).toBe(7);
  });

  test('neighbouring digits are exchanged, across the point as well', () => {
    expect(exchangedDigits(46.2, 1)).toEqual([64.2, 42.6]);
    expect(exchangedDigits(462, 0)).toEqual([642, 426]);
    expect(exchangedDigits(46, 1)).toEqual([64, 40.6]);
    expect(exchangedDigits(0.46, 2)).toEqual([4.06, 0.64]);
    expect(exchangedDigits(44, 0)).toEqual([]);
    // No display shows 06.4.
    expect(exchangedDigits(60.4, 1)).toEqual([64]);
  });

  test('decimals, and what the display showed', () => {
    expect([46, 46.2, 4.62, 1e-7, 1e21].map(decimalPlaces)).toEqual([0, 1, 2, 7, 0]);
    expect(shownValue(46.2 - 0.1, 0.1)).toBe(46.2);
    expect(shownValue(46.2, null)).toBe(46.2);
  });
});

describe('another decimal place', () => {
  test.each([
    ['2r', 462, 46.2],
    ['2r', 4.62, 46.2],
    ['4r', 4.63, 46.3],
    ['4c', 419, 41.9],
    ['7c', 0.417, 41.7],
    ['7r', 4610, 46.1],
  ])('in %s: %s for %s', (cell, slip, right) => {
    const suspects = slipsOf(typed({ [cell]: slip }));
    const meter = cell.endsWith('r') ? 'reference' : 'candidate';
    expect(brief(suspects)).toEqual([[cell.slice(0, -1), meter, 'decimal-place', slip, right]]);
  });

  test('a thousand is a unit', () => {
    expect(brief(slipsOf(typed({ '5c': 0.0417 })))).toEqual([
      ['5', 'candidate', 'unit', 0.0417, 41.7],
    ]);
  });

  test('the message names the row, what was typed, what is likely, and what to do', () => {
    const [suspect] = slipsOf(typed({ '2r': 462 }));
    expect(suspect?.message).toMatch(
      /^runs\.csv, row 2: the reading 462 mW of the reference .*46\.2 mW.*mend it.*exclude.*checked\.$/,
    );
  });

  test('two slips in one series are two suspects', () => {
    expect(brief(slipsOf(typed({ '2r': 4.62, '6r': 42.6 })))).toEqual([
      ['2', 'reference', 'decimal-place', 4.62, 46.2],
      ['6', 'reference', 'digits', 42.6, 46.2],
    ]);
  });

  test('a factor of ten is a slip in the first run, a quarter less is a cold start', () => {
    expect(slipsOf(typed({ '2r': 34.7 }))).toEqual([]);
    expect(brief(slipsOf(typed({ '2r': 347 })))).toEqual([
      ['2', 'reference', 'decimal-place', 347, 34.7],
    ]);
  });

  test('with two laps only, a factor of ten still shows', () => {
    const suspects = slipsOf([
      [46.2, 41.8],
      [462, 41.6],
    ]);
    expect(brief(suspects)).toEqual([['3', 'reference', 'decimal-place', 462, 46.2]]);
  });

  test('a zero in another place, where the other zeros speak for it', () => {
    const rows = LAPS.flatMap(([r, c], i) => [
      `reference,${r},${i === 2 ? '5.0' : '0.5'}`,
      `candidate,${c},0`,
    ]);
    const checked = rows.map((row, i) => `${row},${i === 4 ? 'yes' : ''}`).join('\n');
    expect(findSlips(studyOf(`meter,reading_mW,zero_mW,checked\n${checked}`))).toEqual([]);
    const study = studyOf(`meter,reading_mW,zero_mW\n${rows.join('\n')}`);
    expect(findSlips(study)).toMatchObject([
      {
        row: 6,
        meter: 'reference',
        kind: 'decimal-place',
        quantity: 'zero',
        found: 5,
        likely: 0.5,
      },
    ]);
  });
});

describe('digits exchanged', () => {
  test.each([
    ['4r', 64.2, 46.2],
    ['5r', 40.6, 46],
    ['5c', 47.1, 41.7],
  ])('in %s: %s', (cell, slip, right) => {
    const suspects = slipsOf(typed({ [cell]: slip }));
    expect(suspects).toHaveLength(1);
    expect(suspects[0]).toMatchObject({ kind: 'digits', found: slip, likely: right });
  });

  test('an entry that is far off and alone, and no single slip explains, has no likely value', () => {
    const [suspect, ...others] = slipsOf(typed({ '5r': 88.8 }));
    expect(others).toEqual([]);
    expect(suspect).toMatchObject({ row: 5, kind: 'other', found: 88.8, likely: null });
    expect(suspect?.message).toContain('no single slip');
  });
});

describe('meters exchanged', () => {
  test('in one lap, both layouts', () => {
    const laps = typed({ '4r': 41.9, '4c': 46.3 });
    expect(brief(slipsOf(laps))).toEqual([['4', 'reference', 'exchanged', 41.9, 46.3]]);
    expect(brief(findSlips(studyOf(tidyText(laps))))).toEqual([
      ['6+7', 'reference', 'exchanged', 41.9, 46.3],
    ]);
  });

  test('in the first lap, where no cold start moves both meters apart', () => {
    const laps = typed({ '2r': 41.8, '2c': 46.2 });
    expect(brief(slipsOf(laps))).toEqual([['2', 'reference', 'exchanged', 41.8, 46.2]]);
  });

  const good = LAPS;
  const turned = LAPS.map(([r, c]): Lap => [c, r]);
  const named = (...list: readonly (readonly [string, readonly Lap[]])[]) =>
    `series,source,reference_mW,candidate_mW\n${list
      .flatMap(([id, laps]) => laps.map((lap) => [id, id.split(' ')[0], ...lap].join()))
      .join('\n')}\n`;
  const study = (...list: readonly (readonly [string, readonly Lap[]])[]) =>
    studyOf(named(...list), { ...TWO_SOURCES, protocol: { order: 'reference-first' } });

  test('in a whole series, beside two good ones of its wavelength', () => {
    const suspects = findSlips(study(['green 1', good], ['green 2', turned], ['green 3', good]));
    expect(suspects).toHaveLength(1);
    expect(suspects[0]).toMatchObject({
      row: 8,
      rows: [8, 9, 10, 11, 12, 13],
      series: 'green 2',
      kind: 'exchanged',
      found: 41.8,
      likely: 46.2,
    });
    expect(suspects[0]?.message).toContain('as the other series of this wavelength show');
  });

  test('one against one: both are named, and no value is likely', () => {
    const suspects = findSlips(study(['green 1', good], ['green 2', turned]));
    expect(suspects.map(({ series, kind, likely }) => [series, kind, likely])).toEqual([
      ['green 1', 'exchanged', null],
      ['green 2', 'exchanged', null],
    ]);
    expect(suspects[0]?.message).toContain('do not tell which');
  });

  test('one against one, the steps of the displays tell', () => {
    const coarse = LAPS.map(([r, c]): Lap => [r, Math.round(c)]);
    const runs = named(['green 1', coarse], ['green 2', coarse.map(([r, c]): Lap => [c, r])]);
    const suspects = findSlips(
      studyOf(runs, {
        ...ORDERED,
        reference: { resolution_mW: 0.1 },
        candidate: { resolution_mW: 1 },
      }),
    );
    expect(brief(suspects)).toEqual([['8+9+10+11+12+13', 'reference', 'exchanged', 42, 46.2]]);
  });

  test('another wavelength proves nothing: colours differ', () => {
    expect(findSlips(study(['green 1', good], ['red 1', turned], ['green 2', good]))).toEqual([]);
  });
});

describe('units', () => {
  test('watts beside milliwatts for one meter of a series: the whole column once', () => {
    const suspects = slipsOf(LAPS.map(([r, c]): Lap => [r, (c / 1000).toFixed(4)]));
    expect(suspects).toHaveLength(1);
    expect(suspects[0]).toMatchObject({
      row: 2,
      rows: [2, 3, 4, 5, 6, 7],
      meter: 'candidate',
      kind: 'unit',
      found: 0.0418,
      likely: 41.8,
    });
  });

  test('a reading above the rating of its meter is the one that is off', () => {
    const runs = lapsText(LAPS.map(([r, c]): Lap => [r * 1000, c]));
    const rated = { ...ORDERED, reference: { rated_max_mW: 5000 } };
    expect(findSlips(studyOf(runs, rated))).toMatchObject([
      { meter: 'reference', kind: 'unit', found: 46200, likely: 46.2 },
    ]);
  });

  test('most of one meter’s rows in another unit: those are named, not the good ones', () => {
    const laps = LAPS.map(([r, c], i): Lap => [r, i < 4 ? (c / 1000).toFixed(4) : c]);
    expect(slipsOf(laps).map(({ row, kind }) => [row, kind])).toEqual(
      [2, 3, 4, 5].map((row) => [row, 'unit']),
    );
  });

  describe('of a whole series, beside one of the same source', () => {
    const rows = (id: string, laps: readonly Lap[]) =>
      laps.map((lap) => [id, 'green', ...lap].join());
    const beside = (laps: readonly Lap[], study: object = {}) =>
      findSlips(
        studyOf(
          ['series,source,reference_mW,candidate_mW', ...rows('a', LAPS), ...rows('b', laps)].join(
            '\n',
          ),
          { ...ORDERED, ...study },
        ),
      );
    const ALL = '8+9+10+11+12+13';

    test('the meter that shows another power than before is the one that is off', () => {
      const more = beside(LAPS.map(([r, c]): Lap => [r * 10, c]));
      expect(brief(more)).toEqual([[ALL, 'reference', 'decimal-place', 462, 46.2]]);
      const less = beside(LAPS.map(([r, c]): Lap => [r, (c / 10).toFixed(2)]));
      expect(brief(less)).toEqual([[ALL, 'candidate', 'decimal-place', 4.18, 41.8]]);
    });

    test('where both do, the one that shows less, or finer steps than its display has', () => {
      const both = LAPS.map(([r, c]): Lap => [r * 20, (c * 2).toFixed(1)]);
      expect(brief(beside(both))[0]?.slice(1, 4)).toEqual(['reference', 'decimal-place', 924]);
      const far = LAPS.map(([r, c]): Lap => [r * 100, (c * 10).toFixed(0)]);
      expect(brief(beside(far))[0]?.slice(1, 5)).toEqual(['candidate', 'decimal-place', 418, 4180]);
      const rated = { reference: { rated_max_mW: 1000 } };
      expect(brief(beside(far, rated))[0]?.slice(1, 5)).toEqual([
        'reference',
        'decimal-place',
        4620,
        462,
      ]);
    });

    test('a ratio that no move of the point explains has no likely value', () => {
      // 22 times the usual: the nearest power of ten leaves more than colours do, 2.1
      const [found, ...others] = beside(LAPS.map(([r, c]): Lap => [r, (c / 22.2).toFixed(3)]));
      expect(others).toEqual([]);
      expect(found).toMatchObject({ kind: 'other', likely: null, rows: [8, 9, 10, 11, 12, 13] });
      expect(found?.message).toContain('out of all proportion');
    });

    test('a ratio of less than five times the usual is no slip', () => {
      expect(beside(LAPS.map(([r, c]): Lap => [r, (c / 4.5).toFixed(2)]))).toEqual([]);
    });
  });

  test('in a single lap beside other series', () => {
    const runs = 'series,reference_mW,candidate_mW\na,46.2,41.8\na,46.1,41.7\nb,23.1,209\n';
    expect(brief(findSlips(studyOf(runs, ORDERED)))).toEqual([
      ['4', 'candidate', 'decimal-place', 209, 20.9],
    ]);
  });
});

describe('a row written twice', () => {
  const rows = LAPS.flatMap(([r, c], i) => [
    `reference,${r},${150 * i}`,
    `candidate,${c},${150 * i + 75}`,
  ]);
  const twice = [...rows.slice(0, 4), rows[3]!, ...rows.slice(4)];

  test('the same row with the same time', () => {
    const study = studyOf(`meter,reading_mW,started_at\n${twice.join('\n')}`);
    expect(findSlips(study)).toMatchObject([{ row: 6, rows: [6], kind: 'repeated', likely: null }]);
    expect(findSlips(study)[0]?.message).toContain('row 5');
  });

  test('without times, where it breaks the turn-about', () => {
    const bare = twice.map((row) => row.split(',').slice(0, 2).join());
    const study = studyOf(`meter,reading_mW\n${bare.join('\n')}`);
    expect(findSlips(study)).toMatchObject([{ row: 6, kind: 'repeated' }]);
  });

  test('a lap with the same time', () => {
    const laps = LAPS.map(([r, c], i) => `${r},${c},${150 * i}`);
    const text = [...laps.slice(0, 3), laps[2], ...laps.slice(3)].join('\n');
    const study = studyOf(`reference_mW,candidate_mW,started_at\n${text}`, ORDERED);
    expect(findSlips(study)).toMatchObject([{ row: 5, rows: [5], kind: 'repeated' }]);
  });

  test('equal neighbours on a coarse display are nothing special', () => {
    const flat = Array.from({ length: 6 }, (): Lap => [46, 42]);
    expect(slipsOf(flat)).toEqual([]);
    const meters = ['reference', 'candidate', 'candidate', 'reference'];
    const abba = [...meters, ...meters].map((m) => `${m},${m === 'reference' ? 46 : 42}`);
    expect(findSlips(studyOf(`meter,reading_mW\n${abba.join('\n')}`))).toEqual([]);
  });
});

describe('peaks', () => {
  const rows = (peaks: Readonly<Record<number, number | string>>, readings = LAPS.flat()) =>
    `meter,reading_mW,peak_mW\n${readings
      .map((reading, i) => {
        const peak = peaks[i + 2] ?? (reading + 0.8).toFixed(1);
        return `${i % 2 === 0 ? 'reference' : 'candidate'},${reading},${peak}`;
      })
      .join('\n')}\n`;

  test.each([
    [4.71, 47.1, 'decimal-place'],
    [471, 47.1, 'decimal-place'],
    [41.7, 47.1, 'digits'],
    [0.0471, 47.1, 'unit'],
  ])('%s for %s is named, not refused', (slip, likely, kind) => {
    expect(findSlips(studyOf(rows({ 6: slip })))).toMatchObject([
      { row: 6, kind, quantity: 'peak', found: slip, likely },
    ]);
  });

  test('a reading above its peak is the slip where the other runs say so', () => {
    const readings = LAPS.flat().map((value, i) => (i === 4 ? 463 : value));
    expect(findSlips(studyOf(rows({ 6: 47.1 }, readings)))).toMatchObject([
      { row: 6, kind: 'decimal-place', quantity: 'reading', found: 463, likely: 46.3 },
    ]);
  });

  test('the peak speaks for digits that would pass for a cold start without it', () => {
    const lower = LAPS.flatMap(([r, c]) => [Number((r - 3.6).toFixed(1)), c]);
    const readings = lower.map((value, i) => (i === 0 ? 46.2 : value));
    expect(findSlips(studyOf(rows({}, readings)))).toEqual([]);
    expect(findSlips(studyOf(rows({ 2: 43.4 }, readings)))).toMatchObject([
      { row: 2, kind: 'digits', quantity: 'reading', found: 46.2, likely: 42.6 },
    ]);
  });

  test('a reading above its peak is held against it with its zero taken off both', () => {
    // 45.4 typed for 44.5, both 2 mW too high: ln(42.9/42.5) of overshoot, and 42.9 is below 46.5
    const text = LAPS.map((_, i) => {
      const [reading, peak] = i === 2 ? [45.4, 44.9] : [44.5, 45.3];
      return `reference,${reading},${peak},2\ncandidate,41.8,42.6,0`;
    });
    expect(
      findSlips(studyOf(`meter,reading_mW,peak_mW,zero_mW\n${text.join('\n')}`)),
    ).toMatchObject([{ row: 6, kind: 'digits', quantity: 'reading', found: 45.4, likely: 44.5 }]);
  });

  test('a peak below its reading that nothing explains stays refused', () => {
    const error = errorOf(() => studyOf(rows({ 6: 45.9 })));
    expect(error).toMatchObject({ code: 'row-inconsistent', row: 6, column: 'peak_mW' });
  });

  test('in a run that is left out it stays refused', () => {
    const runs = rows({ 6: 4.71 }).replace(/$/gm, ',').replace('peak_mW,', 'peak_mW,exclude');
    const left = runs.replace('46.3,4.71,', '46.3,4.71,head knocked');
    expect(errorOf(() => studyOf(left)).code).toBe('row-inconsistent');
  });
});

describe('what is no suspect', () => {
  test('entries that are left out or checked', () => {
    const laps = typed({ '4r': 463 });
    const mark = (text: string) => LAPS.map((_, i) => (i === 2 ? text : ','));
    expect(findSlips(studyOf(lapsText(laps, mark('shutter bumped,')), ORDERED))).toEqual([]);
    expect(findSlips(studyOf(lapsText(laps, mark(',yes')), ORDERED))).toEqual([]);
    expect(findSlips(studyOf(lapsText(laps, mark(',')), ORDERED))).toHaveLength(1);
  });

  test('a checked entry contradicts a slip of the whole series', () => {
    const laps = LAPS.map(([r, c]): Lap => [r, (c / 1000).toFixed(4)]);
    const mark = LAPS.map((_, i) => (i === 3 ? ',yes' : ','));
    expect(findSlips(studyOf(lapsText(laps, mark), ORDERED))).toEqual([]);
  });

  const course = (power: (run: number) => number) =>
    slipsOf(
      Array.from(
        { length: 7 },
        (_, lap): Lap => [
          (46.2 * power(2 * lap)).toFixed(1),
          (41.8 * power(2 * lap + 1)).toFixed(1),
        ],
      ),
    );

  test.each([
    ['drooping', (run: number) => 1 - 0.2 * (1 - Math.exp(-run / 3))],
    ['falling', (run: number) => 1 - 0.02 * run],
    ['starting cold', (run: number) => (run === 0 ? 0.7 : 1)],
    ['starting hot', (run: number) => (run === 0 ? 1.3 : 1)],
    ['starting cold for two runs', (run: number) => (run < 2 ? 0.75 + 0.15 * run : 1)],
    ['hopping', (run: number) => (run > 5 ? 1.22 : 1)],
    ['hopping twice', (run: number) => (run < 3 ? 1 : run < 9 ? 1.3 : 1.2)],
    ['scattering', (run: number) => 1 + 0.06 * Math.sin(7.3 * run + 2)],
    ['constant', () => 1],
  ])('a source that is %s', (_, power) => {
    expect(course(power)).toEqual([]);
  });

  test('series too short to say anything', () => {
    expect(slipsOf([[46.2, 41.8]])).toEqual([]);
    expect(slipsOf([[46.2, 11.8]])).toEqual([]);
    expect(
      findSlips(studyOf('meter,reading_mW\nreference,46\ncandidate,41\nreference,64')),
    ).toEqual([]);
  });
});

describe('what follows from suspects', () => {
  const readings = (study: Study) =>
    study.series.map(({ runs }) => runs.map((run) => [run.meter, run.reading_mW]));
  const right = studyOf(lapsText(LAPS), ORDERED);

  test.each([
    ['a decimal place', typed({ '4r': 463 })],
    ['digits', typed({ '5r': 40.6 })],
    ['a lap exchanged', typed({ '4r': 41.9, '4c': 46.3 })],
    ['a unit in a whole column', LAPS.map(([r, c]): Lap => [r, (c / 1000).toFixed(4)])],
  ])('with the likely values, %s is undone to the last bit', (_, laps) => {
    const study = studyOf(lapsText(laps), ORDERED);
    expect(readings(study)).not.toEqual(readings(right));
    expect(readings(withLikely(study, findSlips(study)))).toEqual(readings(right));
  });

  test('a whole series exchanged is turned back, in the tidy layout by its meters', () => {
    const three = (text: (laps: readonly Lap[]) => string) =>
      ['a', 'b', 'c']
        .flatMap((id) => {
          const laps = id === 'b' ? LAPS.map(([r, c]): Lap => [c, r]) : LAPS;
          return text(laps)
            .trim()
            .split('\n')
            .slice(1)
            .map((row) => `${id},${row}`);
        })
        .join('\n');
    const tidy = studyOf(`series,meter,reading_mW\n${three(tidyText)}`);
    const side = studyOf(`series,reference_mW,candidate_mW\n${three(lapsText)}`, ORDERED);
    const turned = withLikely(side, findSlips(side));
    expect(readings(turned)[1]).toEqual(readings(turned)[0]);
    const [first, second] = withLikely(tidy, findSlips(tidy)).series;
    expect(second?.runs.map((run) => run.meter)).toEqual(
      first?.runs.map((run) => (run.meter === 'reference' ? 'candidate' : 'reference')),
    );
    expect(
      second?.runs.filter((run) => run.meter === 'reference').map((run) => run.reading_mW),
    ).toEqual(LAPS.map(([r]) => r));
  });

  test('a mended peak and zero', () => {
    const study = studyOf(
      `meter,reading_mW,peak_mW,zero_mW\n${LAPS.flat()
        .map((r, i) => `${i % 2 ? 'candidate' : 'reference'},${r},${i === 4 ? 4.71 : r + 1},0.1`)
        .join('\n')}`,
    );
    const run = withLikely(study, findSlips(study)).series[0]?.runs[4];
    expect(run?.peak_mW).toBe(47.1 - 0.1);
    expect(run?.reading_mW).toBe(46.3 - 0.1);
  });

  test('what has no likely value is left out of the mended study', () => {
    const study = studyOf(lapsText(typed({ '5r': 88.8 })), ORDERED);
    const mended = withLikely(study, findSlips(study));
    expect(mended.series[0]?.runs.flatMap((run) => run.exclude ?? [])).toEqual(['open suspect']);
    expect(mended.series[0]?.runs[6]?.exclude).toBe('open suspect');
  });

  test('without the suspects, every run of their rows has a reason', () => {
    const study = studyOf(lapsText(typed({ '4r': 463 })), ORDERED);
    const left = withoutSuspects(study, findSlips(study));
    expect(left.series[0]?.runs.map((run) => [run.row, run.exclude])).toEqual(
      study.series[0]?.runs.map((run) => [run.row, run.row === 4 ? 'open suspect' : null]),
    );
  });

  test('a study without suspects stays as it is, and a mended one has none left', () => {
    expect(findSlips(right)).toEqual([]);
    expect(withLikely(right, [])).toEqual(right);
    expect(withoutSuspects(right, [])).toEqual(right);
    const study = studyOf(lapsText(typed({ '2r': 462, '6c': 48.1 })), ORDERED);
    expect(findSlips(study)).toHaveLength(2);
    expect(findSlips(withLikely(study, findSlips(study)))).toEqual([]);
  });
});
