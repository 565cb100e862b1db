/** The slips that could stand behind an entry, by hand. */
import { describe, expect, test } from 'vitest';
import { type Entry, entriesOf } from '../../src/record/slips/entries.js';
import {
  digitRepairs,
  lapRepairs,
  pointRepairs,
  zeroRepairsOf,
} from '../../src/record/slips/repairs.js';
import { repeatedRows } from '../../src/record/slips/repeatedRows.js';
import type { Run } from '../../src/vocabulary.js';
import { near } from '../near.js';
import { runsOf, seriesOf } from '../series/runs.js';

/** Net readings, run by run, with what differs in a run. */
const entries = (
  meters: string,
  readings: readonly number[],
  changes: Readonly<Record<number, Partial<Run>>> = {},
): Entry[] =>
  entriesOf(
    seriesOf(
      runsOf(meters, ({ place }) => readings[place]!).map((run) => ({
        ...run,
        ...changes[run.run],
      })),
    ),
  );

describe('entries', () => {
  test('left out, or not above 0, are none; groups are meters, with the decimals of most of them', () => {
    const found = entries('RCRCRC', [46.2, 41, 0, 41.5, 46, 40.25], { 5: { exclude: 'knocked' } });
    expect(found.map(({ run }) => run.run)).toEqual([1, 2, 4, 6]);
    expect(found.map(({ group }) => group)).toEqual([0, 1, 1, 1]);
    // 0, 1 and 2 decimals of the candidate: 1
    expect(found.map(({ places }) => places)).toEqual([1, 1, 1, 1]);
    near(found[0]!.y, Math.log(46.2), 1e-15);
  });

  test('in a series under two settings each setting is a group', () => {
    const runs = runsOf('RRRR', () => 46).map((run, i) => ({
      ...run,
      setting_nm: i % 2 === 0 ? 520 : 638,
    }));
    const found = entriesOf({ ...seriesOf(runs), kind: 'setting' });
    expect(found.map(({ group }) => group)).toEqual([0, 1, 0, 1]);
  });
});

describe('the point of a reading moved back', () => {
  test('by one to three places, its zero staying', () => {
    // Net 45.2, shown 46.2 with a zero of 1
    const found = pointRepairs(entries('RC', [45.2, 41], { 1: { zero_mW: 1 } }), 0);
    expect(found.map(({ likely, kind }) => [likely, kind])).toEqual([
      // 0.0462 and 0.462 lie below the zero
      [4.62, 'decimal-place'],
      [462, 'decimal-place'],
      [4620, 'decimal-place'],
      [46200, 'unit'],
    ]);
    near(found[0]!.changes[0]!.y, Math.log(3.62), 1e-12);
    expect(found[0]).toMatchObject({ quantity: 'reading', found: 46.2 });
  });

  test('not where it was checked', () => {
    const checked = entries('RC', [46.2, 41], { 1: { checked: true } });
    expect([pointRepairs(checked, 0), digitRepairs(checked, 0)]).toEqual([[], []]);
  });
});

test('two digits exchanged back, where that changes 7 % or more', () => {
  // 45.4: 54.4 is 19.8 % more, 44.5 is 2 % less
  expect(digitRepairs(entries('RC', [45.4, 41]), 0).map(({ likely }) => likely)).toEqual([54.4]);
  // Both neighbours of 41.7, over the point as well
  const [only, ...others] = digitRepairs(entries('RC', [46.2, 41.7]), 1);
  expect(only).toMatchObject({ kind: 'digits', found: 41.7, likely: 14.7 });
  expect(others.map(({ likely }) => likely)).toEqual([47.1]);
  // A zero that the repaired reading would not stand above
  expect(digitRepairs(entries('RC', [0.5, 41], { 1: { zero_mW: 46 } }), 0)).toMatchObject([
    { found: 46.5, likely: 64.5 },
  ]);
});

describe('the meters of a lap exchanged back', () => {
  test('one repair a lap, where they differ by 5 %', () => {
    const found = lapRepairs(entries('RCRC', [46.2, 41.8, 42, 41.8]));
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({ kind: 'exchanged', found: 46.2, likely: 41.8 });
    expect(found[0]!.changes).toEqual([
      { index: 0, y: Math.log(41.8) },
      { index: 1, y: Math.log(46.2) },
    ]);
  });

  test('none where one of both was checked, or stands alone', () => {
    const laps = (changes: Readonly<Record<number, Partial<Run>>>) =>
      lapRepairs(entries('RC', [46.2, 41.8], changes));
    expect(laps({ 1: { checked: true } })).toEqual([]);
    expect(laps({ 2: { checked: true } })).toEqual([]);
    expect(laps({ 2: { exclude: 'knocked' } })).toEqual([]);
    expect(laps({ 1: { lap: null }, 2: { lap: null } })).toEqual([]);
  });
});

describe('the point of a zero moved back', () => {
  const of = (zeros: readonly (number | null)[], reading = 46.25) => {
    const changes = Object.fromEntries(zeros.map((zero_mW, i) => [i + 1, { zero_mW }]));
    const list = entries(
      'R'.repeat(zeros.length),
      zeros.map((zero) => reading - (zero ?? 0)),
      changes,
    );
    return zeroRepairsOf(list)(zeros.length - 1).map(({ likely, kind, changes: [change] }) => [
      likely,
      kind,
      Number(Math.exp(change!.y).toFixed(6)),
    ]);
  };

  test('where the others speak for it: within 30 % of their middle', () => {
    expect(of([0.5, 0.4, 0.5, 5])).toEqual([[0.5, 'decimal-place', 45.75]]);
    expect(of([0.5, 0.5, 0.5, 0.05])).toEqual([[0.5, 'decimal-place', 45.75]]);
  });

  test('not from one other alone, near the others, or where no move brings it among them', () => {
    expect(of([0.5, 5])).toEqual([]);
    expect(of([0.5, 0.5, 0.6])).toEqual([]);
    expect(of([0.5, 0.4, 0.5, 9])).toEqual([]);
    expect(of([0.5, 0.5, 0.5, 0])).toEqual([]);
    expect(of([0.5, 0.5, 0.5, null])).toEqual([]);
  });
});

describe('rows written twice, in a series without times', () => {
  const rows = (meters: string, readings: readonly number[], changes: Partial<Run> = {}) => {
    const runs = runsOf(meters, ({ place }) => readings[place]!).map((run) =>
      run.run === 4 ? { ...run, ...changes } : run,
    );
    const series = { ...seriesOf(runs), timed: false };
    return repeatedRows(series).map(({ runs: [run], of }) => [run!.row, of]);
  };
  const [r, c] = [46, 41];

  test('break a turn-about that is whole without them', () => {
    // R C C [C] R R C C R: the fourth repeats the third
    expect(rows('RCCCRRCCR', [r, c, c, c, r, r, c, c, r])).toEqual([
      [4, 3],
      [5, 4],
    ]);
    expect(rows('RCCRRCCR', [r, c, c, r, r, c, c, r])).toEqual([]);
  });

  test('have to be equal in everything, and neither checked nor left out', () => {
    const readings = [46, 41, 41.1, 41.1, 46, 46, 41, 41, 46];
    expect(rows('RCCCRRCCR', readings)).toEqual([[5, 4]]);
    expect(rows('RCCCRRCCR', readings, { note: 'again' })).toEqual([]);
    expect(rows('RCCCRRCCR', readings, { checked: true })).toEqual([]);
    expect(rows('RCCCRRCCR', readings, { exclude: 'twice' })).toEqual([]);
  });
});
