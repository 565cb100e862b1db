/** Peaks beside their readings, each bound from both sides; whole records of what is named. */
import { describe, expect, test } from 'vitest';
import { entriesOf } from '../../../src/record/slips/entries.js';
import { findSlips } from '../../../src/record/slips/findSlips.js';
import { peakSlips } from '../../../src/record/slips/peakSlips.js';
import { repeatedRows } from '../../../src/record/slips/repeatedRows.js';
import type { Run } from '../../../src/vocabulary.js';
import { runsOf, seriesOf } from '../../series/runs.js';
import { PLAIN, studyOf } from '../support.js';

/** Readings of one meter with their peaks; `changes` by run. */
function peaks(
  pairs: readonly (readonly [number, number | null])[],
  changes: Readonly<Record<number, Partial<Run>>> = {},
  mended?: readonly (number | null)[],
) {
  const runs = runsOf('R'.repeat(pairs.length), ({ place }) => pairs[place]![0]).map((run) => ({
    ...run,
    peak_mW: pairs[run.run - 1]![1],
    ...changes[run.run],
  }));
  const entries = entriesOf(seriesOf(runs));
  return peakSlips(entries, mended ?? entries.map(({ y }) => y));
}

const GOOD = [
  [46, 47],
  [46, 47],
  [46, 46.9],
] as const;

describe('a peak', () => {
  test('at its reading, and up to three times it, is none', () => {
    expect(peaks([...GOOD, [46, 46]])).toEqual([]);
    expect(peaks([...GOOD, [46, 137.9]])).toEqual([]);
    expect(peaks([...GOOD, [46, null]])).toEqual([]);
  });

  test.each([
    [4.7, 'decimal-place', 47],
    [470, 'decimal-place', 47],
    [0.047, 'unit', 47],
    [47000, 'unit', 47],
  ])('of %d mW for 47 is named with the whole of it', (found, kind, likely) => {
    expect(peaks([...GOOD, [46, found]])).toEqual([
      { index: 3, quantity: 'peak', kind, found, likely },
    ]);
  });

  test('that nothing brings above its reading, or near enough, is left alone', () => {
    // 45.9: 459 and 54.9 are too far
    expect(peaks([...GOOD, [46, 45.9]])).toEqual([]);
    // Above the highest of the others, 47/46, by 15 %: 54.05
    expect(peaks([...GOOD, [46, 5.4]])).toMatchObject([{ likely: 54 }]);
    expect(peaks([...GOOD, [46, 5.41]])).toEqual([]);
    // Two digits exchanged: above it by 4 %, 47/46 · 1.04 = 1.0626
    expect(peaks([...GOOD, [46, 45.8]])).toMatchObject([{ kind: 'digits', likely: 48.5 }]);
    expect(peaks([...GOOD, [46, 45.9]])).toEqual([]);
    // 49.4/46.5 = 1.0624, 49.4/46.48 = 1.0628
    const turned = (reading: number) => peaks([...GOOD, [reading, 44.9]]).map((one) => one.likely);
    expect([turned(46.5), turned(46.48)]).toEqual([[49.4], []]);
  });

  test('without two others may be 1.6 times its reading, and 1.2 times with two digits', () => {
    expect(peaks([[46, 7.35]])).toMatchObject([{ likely: 73.5 }]);
    expect(peaks([[46, 7.37]])).toEqual([]);
    expect(
      peaks([
        [46, 47],
        [46, 7.35],
      ]),
    ).toMatchObject([{ index: 1, likely: 73.5 }]);
    // 43 is 1.198 times 35.9, and 1.201 times 35.8
    expect(peaks([[35.9, 34]])).toMatchObject([{ kind: 'digits', likely: 43 }]);
    expect(peaks([[35.8, 34]])).toEqual([]);
  });

  test('of a checked run is left alone', () => {
    expect(peaks([...GOOD, [46, 4.7]], { 4: { checked: true } })).toEqual([]);
  });

  test('of another meter is no measure', () => {
    // Beside the two of its own the limit were 1.175; without them it is 1.6
    const runs = runsOf('CCRR', ({ place }) => [40, 40, 46, 46][place]!).map((run, i) => ({
      ...run,
      peak_mW: [40.4, 40.4, null, 7][i]!,
    }));
    const entries = entriesOf(seriesOf(runs));
    const found = peakSlips(
      entries,
      entries.map(({ y }) => y),
    );
    expect(found).toMatchObject([{ index: 3, likely: 70 }]);
  });

  test('of a reading that nobody knows is no case', () => {
    const y = Math.log(46);
    expect(peaks([...GOOD, [46, 4.7]], {}, [y, y, y, null])).toEqual([]);
  });

  test('has its zero beside it, in what was typed and in what is likely', () => {
    // Typed 4.8 for 48 with a zero of 1: 47 above 46
    const found = peaks(
      [
        [46, 47],
        [46, 47],
        [46, 46.9],
        [46, 3.8],
      ],
      { 4: { zero_mW: 1 } },
    );
    expect(found).toEqual([
      { index: 3, quantity: 'peak', kind: 'decimal-place', found: 4.8, likely: 48 },
    ]);
  });
});

describe('a row written twice, in a series with times', () => {
  const rows = (
    times: readonly number[],
    readings: readonly number[],
    changes: Readonly<Record<number, Partial<Run>>> = {},
  ) => {
    const runs = runsOf(
      'R'.repeat(times.length),
      ({ place }) => readings[place]!,
      (place) => times[place]!,
    ).map((run) => ({ ...run, ...changes[run.run] }));
    return repeatedRows(seriesOf(runs)).map(({ runs: own, of }) => [
      own.map(({ row }) => row).join(),
      of,
    ]);
  };

  test('has the time and all else of an earlier one, wherever that stands', () => {
    expect(rows([0, 60, 0], [46, 47, 46])).toEqual([['4', 2]]);
    expect(rows([0, 60, 120], [46, 46, 46])).toEqual([]);
    expect(rows([0, 60, 0], [46, 47, 46.1])).toEqual([]);
    // All copies are named by the first
    expect(rows([0, 0, 0], [46, 46, 46])).toEqual([
      ['3', 2],
      ['4', 2],
    ]);
    // The time alone is nobody's
    expect(rows([0, 0, 0, 0], [46, 47, 47, 46])).toEqual([
      ['4', 3],
      ['5', 2],
    ]);
  });

  test.each([
    [{ peak_mW: 48 }],
    [{ zero_mW: 0.1 }],
    [{ setting_nm: 520 }],
    [{ note: 'again' }],
    [{ meter: 'candidate' }],
    [{ checked: true }],
    [{ exclude: 'twice' }],
  ] as const)('not with %j', (change) => {
    expect(rows([0, 60, 0], [46, 47, 46], { 3: change })).toEqual([]);
  });

  test('nor as the copy of a row that is left out; checking the first tells nothing of the second', () => {
    expect(rows([0, 60, 0], [46, 47, 46], { 1: { exclude: 'knocked' } })).toEqual([]);
    expect(rows([0, 60, 0], [46, 47, 46], { 1: { checked: true } })).toEqual([['4', 2]]);
  });

  test('of two runs, begins with the earlier of them, whichever stands first', () => {
    const laps = (second: readonly [number, number]) =>
      rows([0, 30, ...second], [46, 41, 46, 41], {
        1: { row: 2, meter: 'reference' },
        2: { row: 2, meter: 'candidate' },
        3: { row: 3, meter: 'reference' },
        4: { row: 3, meter: 'candidate' },
      });
    expect(laps([0, 30])).toEqual([['3,3', 2]]);
    expect(laps([60, 90])).toEqual([]);
  });
});

describe('suspects as whole records', () => {
  const LAPS = [
    [46.2, 41.8],
    [46.1, 41.6],
    [46.3, 41.9],
    [46.0, 41.7],
    [46.2, 41.8],
    [46.1, 41.7],
  ] as const;
  const of = (change: (lap: readonly [number, number], i: number) => readonly [number, number]) =>
    findSlips(
      studyOf(
        `reference_mW,candidate_mW\n${LAPS.map((lap, i) => change(lap, i).join()).join('\n')}\n`,
        { ...PLAIN, protocol: { order: 'reference-first' } },
      ),
    ).map(({ message: _, ...parts }) => parts);

  test('one number, one lap, one meter of a series, in the order of the rows', () => {
    const series = 'series 1';
    expect(of(([r, c], i) => (i === 2 ? [c, r] : i === 0 ? [462, c] : [r, c]))).toEqual([
      {
        row: 2,
        rows: [2],
        series,
        meter: 'reference',
        kind: 'decimal-place',
        found: 462,
        likely: 46.2,
        quantity: 'reading',
      },
      {
        row: 4,
        rows: [4],
        series,
        meter: 'reference',
        kind: 'exchanged',
        found: 41.9,
        likely: 46.3,
      },
    ]);
    expect(of(([r, c]) => [r, c / 1000])).toEqual([
      {
        row: 2,
        rows: [2, 3, 4, 5, 6, 7],
        series,
        meter: 'candidate',
        kind: 'unit',
        found: 0.0418,
        likely: 41.8,
      },
    ]);
  });

  test('a whole meter whose first run has no partner is held against the first of the other', () => {
    // The first reference stands alone: its neighbour is one as well
    const rows = [46.4, ...LAPS.flat()].map(
      (mW, i) =>
        `${i === 0 || i % 2 === 1 ? 'reference' : 'candidate'},${i === 0 || i % 2 === 1 ? mW / 1000 : mW}`,
    );
    const [found, ...others] = findSlips(studyOf(`meter,reading_mW\n${rows.join('\n')}\n`));
    expect(others).toEqual([]);
    expect(found).toMatchObject({
      row: 2,
      rows: [2, 3, 5, 7, 9, 11, 13],
      meter: 'reference',
      kind: 'unit',
      found: 0.0464,
      likely: 46.4,
    });
  });
});
