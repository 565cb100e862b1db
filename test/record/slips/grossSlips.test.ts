/** Slips by powers of ten and wild entries, each bound from both sides. */
import { describe, expect, test } from 'vitest';
import { type Entry, entriesOf } from '../../../src/record/slips/entries.js';
import { fineSlips } from '../../../src/record/slips/fineSlips.js';
import { grossSlips } from '../../../src/record/slips/grossSlips.js';
import { bestFits, sceneOf } from '../../../src/record/slips/scene.js';
import { settleGross } from '../../../src/record/slips/settleGross.js';
import { wildRepair } from '../../../src/record/slips/wildEntry.js';
import type { Run } from '../../../src/vocabulary.js';
import { near } from '../../near.js';
import { runsOf, seriesOf } from '../../series/runs.js';

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
const brief = (list: readonly Entry[]) =>
  grossSlips(list).map(({ kind, quantity, found, likely, changes }) => [
    changes[0]!.index,
    kind,
    quantity,
    found,
    likely,
  ]);

describe('an entry far from its group', () => {
  test('needs two others beside it', () => {
    expect(brief(entries('RR', [46.2, 462]))).toEqual([]);
    expect(brief(entries('RRR', [46.2, 46.2, 462]))).toEqual([
      [2, 'decimal-place', 'reading', 462, 46.2],
    ]);
  });

  test('is more than three times off, and its mended reading less than 1.8 times', () => {
    const last = (value: number) => brief(entries('RRRR', [46.2, 46.2, 46.2, value]));
    // 46.2 · 3 = 138.6, of which 13.85 is 3.3 times off, and 318.5, 183.5, 135.8 as well
    expect(last(138.5)).toEqual([]);
    // 8.32 is 5.6 times less; its tenfold is 1.80 times as much
    expect(last(8.32)).toEqual([]);
    expect(last(8.3)).toEqual([[3, 'decimal-place', 'reading', 8.3, 83]]);
    expect(last(256)).toEqual([]);
    expect(last(257)).toEqual([[3, 'decimal-place', 'reading', 257, 25.7]]);
    // 15.5 is 2.98 times less, and 51.5 would be near
    expect(last(15.5)).toEqual([]);
    // 15.3 is 3.02 times less: 51.3, while 153 is 3.3 times more
    expect(last(15.3)).toEqual([[3, 'digits', 'reading', 15.3, 51.3]]);
  });

  test('has another decimal place unless two digits exchanged are nearer by a fifth', () => {
    const last = (value: number) => brief(entries('RRRRR', [1.99, 2.01, 2.01, 2.01, value]));
    // 2.4/2.04 is 1.18, 2.5/2.05 is 1.22
    expect(last(0.24)).toEqual([[4, 'decimal-place', 'reading', 0.24, 2.4]]);
    expect(last(0.25)).toEqual([[4, 'digits', 'reading', 0.25, 2.05]]);
  });

  test('may have its zero in another place', () => {
    // Shown 46.2: 1.2 with 45, 45.75 with 0.45
    const zeros = { 1: 0.45, 2: 0.4, 3: 0.45, 4: 45 };
    const list = entries(
      'RRRR',
      [45.75, 45.8, 45.75, 1.2],
      Object.fromEntries(Object.entries(zeros).map(([run, zero_mW]) => [run, { zero_mW }])),
    );
    expect(brief(list)).toEqual([[3, 'decimal-place', 'zero', 45, 0.45]]);
  });

  test('stays out of the list where it was checked', () => {
    expect(brief(entries('RRRR', [46, 46, 46, 460], { 4: { checked: true } }))).toEqual([]);
  });
});

describe('the level of a group', () => {
  test('is its own from three entries on, else that of all', () => {
    // Two of the candidate, a hundred times less: the middle of all is that of the reference
    expect(brief(entries('RRRRCC', [46, 46, 46, 46, 0.41, 0.41])).map(([at]) => at)).toEqual([
      4, 5,
    ]);
    // Three have a level of their own
    expect(brief(entries('RRRRCCC', [46, 46, 46, 46, 0.41, 0.41, 0.41]))).toEqual([]);
  });

  test('is the other meter’s where most entries are in another unit and some are not', () => {
    const readings = [46, 46, 46, 0.041, 0.041, 41];
    expect(brief(entries('RRRCCC', readings))).toEqual([
      [3, 'unit', 'reading', 0.041, 41],
      [4, 'unit', 'reading', 0.041, 41],
    ]);
    // 15.4 is 2.99 times less than 46, 15.2 is 3.03 times less: then nothing speaks for 46
    const bound = (last: number) =>
      brief(entries('RRRCCC', [46, 46, 46, 0.041, 0.041, last])).map(([at]) => at);
    expect([bound(15.4), bound(15.2)]).toEqual([[3, 4], []]);
  });
});

describe('the scene', () => {
  test('has the variance of the displays’ steps and of a thousandth', () => {
    const list = entries('RRRRR', [50, 50, 50, 50, 50.5]);
    // No decimals: (1/50)²/12, four times, and (1/51)²/12; the last shows one too many: 50.5
    const steps = [50, 50, 50, 50, 50.5].map((shown) => (1 / shown) ** 2 / 12);
    const scene = sceneOf(
      list,
      list.map(({ y }) => y),
    );
    near(scene?.floor, steps.reduce((a, b) => a + b, 0) / 5 + 1e-6, 1e-15);
  });

  test('leaves out what counts no more, and is none of too few', () => {
    const list = entries('RRRRR', [50, 50, 50, 50, 50]);
    expect(sceneOf(list, [1, null, 2, 3, 4])?.active).toEqual([0, 2, 3, 4]);
    expect(sceneOf(list, [1, null, 2, 3, 4])?.y).toEqual([1, 2, 3, 4]);
    expect(sceneOf(list, [1, null, 2, null, 4])).toBeNull();
  });

  test('the best course costs as much as a level does for equal readings', () => {
    const list = entries('RRRRR', [50, 50, 50, 50, 50]);
    const scene = sceneOf(list, [4, 4, 4, 4, 4])!;
    // n ln(0 + floor) + 2 for the one coefficient
    near(scene.cost, 5 * Math.log(scene.floor) + 2, 1e-9);
  });

  test('courses as good as the best, to 4, are given in their order, none beyond', () => {
    const list = entries('RRRRRR', [50, 50, 50, 50, 50, 50]);
    const scene = sceneOf(list, [4, 4, 4, 4, 4, 4])!;
    const best = bestFits(scene, scene.fits, []);
    // All leave nothing: 2 for a level, 4 for a line, 6 for a parabola and for a cold start (1 + 1 from
    // a list) on a level, 8 for anything that has two columns more
    expect(best.map(({ cost }) => Math.round(cost - best[0]!.cost))).toEqual([0, 2, 4, 4, 4, 4, 4]);
    expect(best.slice(0, 3).map(({ fit }) => fit.course.basis.length)).toEqual([1, 2, 3]);
  });
});

describe('a gross slip looked at once more', () => {
  const settled = (list: readonly Entry[]) => {
    const gross = grossSlips(list);
    const mended = list.map(({ y }, i) => {
      const repair = gross.find(({ changes }) => changes[0]!.index === i);
      return repair === undefined ? y : repair.changes[0]!.y;
    });
    return settleGross(list, gross, sceneOf(list, mended)).map(({ kind, likely }) => [
      kind,
      likely,
    ]);
  };

  test('0.45 for 4.05 is two digits exchanged, not 4.5 with the point moved', () => {
    const list = entries('RRRRRRRR', [4.04, 4.06, 4.05, 4.04, 0.45, 4.06, 4.05, 4.04]);
    expect(brief(list)).toEqual([[4, 'decimal-place', 'reading', 0.45, 4.5]]);
    expect(settled(list)).toEqual([['digits', 4.05]]);
  });

  test('one that stays more than a quarter off when mended is explained by nothing', () => {
    const of = (typed: number) =>
      settled(entries('RRRRRRRR', [44.4, 44.4, 44.4, 44.4, typed, 44.4, 44.4, 44.4]));
    // 55 is 1.239 times 44.4, 56 is 1.261 times
    expect(of(550)).toEqual([['decimal-place', 55]]);
    expect(of(560)).toEqual([['other', null]]);
  });

  test('without a scene it stays as it is', () => {
    const gross = grossSlips(entries('RRR', [46, 46, 460]));
    expect(settleGross(entries('RRR', [46, 46, 460]), gross, null)).toEqual(gross);
  });
});

describe('one slip after the other', () => {
  const judged = (list: readonly Entry[]) => fineSlips(list, grossSlips(list));

  test('mends what it finds, and leaves every other reading', () => {
    const list = entries(
      'RCRCRCRCRCRC',
      [46.2, 41.8, 46.1, 41.6, 463, 41.9, 46, 41.7, 46.2, 41.8, 46.1, 41.7],
    );
    const { repairs, mended } = judged(list);
    expect(repairs.map(({ kind, likely }) => [kind, likely])).toEqual([['decimal-place', 46.3]]);
    expect(mended).toEqual(list.map(({ y }, i) => (i === 4 ? Math.log(46.3) : y)));
  });

  test('what no slip explains counts no more', () => {
    const list = entries(
      'RCRCRCRCRCRC',
      [46.2, 41.8, 46.1, 41.6, 46.3, 41.9, 88.8, 41.7, 46.2, 41.8, 46.1, 41.7],
    );
    const { repairs, mended } = judged(list);
    expect(repairs).toEqual([wildRepair(list, 6)]);
    expect(mended).toEqual(list.map(({ y }, i) => (i === 6 ? null : y)));
  });

  test('of a good series there is none', () => {
    const list = entries('RCRCRC', [46.2, 41.8, 46.1, 41.6, 46.3, 41.9]);
    expect(judged(list)).toEqual({ repairs: [], mended: list.map(({ y }) => y) });
  });
});

test('slips are looked for one after the other, the clearest first, up to a third of the entries', () => {
  const right = [46.2, 41.8, 46.1, 41.7, 46.2, 41.9];
  const typed = new Map([
    [4, 64.2],
    [13, 48.1],
    [18, 42.6],
  ]);
  const list = entries(
    'RC'.repeat(12),
    Array.from({ length: 24 }, (_, place) => typed.get(place) ?? right[place % 6]!),
  );
  const { repairs } = fineSlips(list, grossSlips(list));
  // A third more, a sixth more, a twelfth less
  expect(repairs.map(({ kind, changes, likely }) => [changes[0]!.index, kind, likely])).toEqual([
    [4, 'digits', 46.2],
    [13, 'digits', 41.8],
    [18, 'digits', 46.2],
  ]);
});
