/** What speaks for a slip beside the readings themselves: the other zeros, the peak, the first runs. */
import { describe, expect, test } from 'vitest';
import { entriesOf } from '../../../src/record/slips/entries.js';
import { fineSlips } from '../../../src/record/slips/fineSlips.js';
import { grossSlips } from '../../../src/record/slips/grossSlips.js';
import type { Run } from '../../../src/vocabulary.js';
import { runsOf, seriesOf } from '../../series/runs.js';

/** Runs turn about at two levels, with what differs in a run. */
const found = (
  readings: readonly number[],
  changes: Readonly<Record<number, Partial<Run>>> = {},
) => {
  const runs = runsOf('RC'.repeat(readings.length / 2), ({ place }) => readings[place]!).map(
    (run) => ({ ...run, ...changes[run.run] }),
  );
  const list = entriesOf(seriesOf(runs));
  return fineSlips(list, grossSlips(list)).repairs.map(
    ({ kind, quantity, changes: [one], likely }) => [one!.index + 1, kind, quantity, likely],
  );
};

/** Both meters scatter by some 3 %, one up where the other is down. */
const UNSTEADY = [47.5, 40.6, 44.9, 42.7, 46.2, 41.6, 47.4, 40.5, 44.8, 43, 46.3, 41.7];

describe('in a series that scatters by 3 %', () => {
  const zeros = (typed: number) =>
    Object.fromEntries(
      Array.from({ length: 12 }, (_, i) => [i + 1, { zero_mW: i === 4 ? typed : 0.5 }]),
    );

  test('a reading that is 10 % low is nothing', () => {
    expect(found(UNSTEADY.map((mW, i) => (i === 4 ? 41.7 : mW)))).toEqual([]);
  });

  test('and is mended where its zero, 5 for 0.5, stands apart from all others', () => {
    // Shown 46.7: 41.7 with a zero of 5, 46.2 with 0.5
    expect(
      found(
        UNSTEADY.map((mW, i) => (i === 4 ? 41.7 : mW)),
        zeros(5),
      ),
    ).toEqual([[5, 'decimal-place', 'zero', 0.5]]);
  });

  test('two digits, 49.4 for 44.9, are nothing without a peak below them and not below what is right', () => {
    // 10 % more in the third run
    const high = UNSTEADY.map((mW, i) => (i === 2 ? 49.4 : mW));
    const mended = [[3, 'digits', 'reading', 44.9]];
    const beside = (peak_mW: number) => found(high, { 3: { peak_mW } });
    expect(found(high)).toEqual([]);
    expect([beside(46), beside(44.9), beside(49.3)]).toEqual([mended, mended, mended]);
    expect([beside(44.8), beside(49.4), beside(51)]).toEqual([[], [], []]);
  });
});

describe('two digits exchanged in the first run', () => {
  const first = (typed: number) =>
    found([typed, 41.8, 46.1, 41.6, 46.3, 41.9, 46, 41.7, 46.2, 41.8, 46.1, 41.7]);

  test('pass for a cold start of 38 % less to 35 % more, and not beyond', () => {
    // 46.2 as 42.6 is 8 % less, as 64.2 it is 39 % more
    expect(first(42.6)).toEqual([]);
    expect(first(64.2)).toEqual([[1, 'digits', 'reading', 46.2]]);
  });
});
