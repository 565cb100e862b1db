import { describe, expect, test } from 'vitest';
import { fitCourse } from '../../src/record/slips/courseFit.js';
import { entriesOf } from '../../src/record/slips/entries.js';
import { explains } from '../../src/record/slips/explains.js';
import { ordinaryCourses } from '../../src/record/slips/ordinaryCourses.js';
import { sceneOf } from '../../src/record/slips/scene.js';
import { wildEntry } from '../../src/record/slips/wildEntry.js';
import { runsOf, seriesOf } from '../series/runs.js';

/** Five readings at one level, the last off by `off`; `floor` is all the scatter there is. */
const judged = (off: number, to: number, floor: number, sigmas = 4) => {
  const y = [0, 0, 0, 0, off];
  const level = fitCourse(ordinaryCourses([0, 0, 0, 0, 0])[0]!, y);
  return explains(level, y, [{ index: 4, y: to }], { floor, sigmas });
};

describe('one of five readings, 4/5 of which a level leaves', () => {
  // 4 degrees of freedom less the one of the entry: 3
  test('is far from sigmas · (1 + 3/3) standard deviations on', () => {
    // 0.1 · √0.8 = 8 s: s² = 1.25e-4
    expect([1.24e-4, 1.26e-4].map((floor) => judged(0.1, 0, floor))).toEqual([true, false]);
    // 2 · (1 + 3/3): s² = 5e-4
    expect([4.9e-4, 5.1e-4].map((floor) => judged(0.1, 0, floor, 2))).toEqual([true, false]);
  });

  test('and near once changed within 3 · (1 + 2/3) of them', () => {
    // moved: 0.8 · 0.02 ≤ 5 s · √0.8 = 4.472 s: s² = 1.28e-5
    expect([1.27e-5, 1.29e-5].map((floor) => judged(0.5, 0.02, floor))).toEqual([false, true]);
    expect([1.27e-5, 1.29e-5].map((floor) => judged(0.5, -0.02, floor))).toEqual([false, true]);
  });

  test('a change of less than 6 % is none worth a word', () => {
    const six = Math.log(1.06);
    expect([six * 0.999, six * 1.001].map((off) => judged(off, 0, 1e-9))).toEqual([false, true]);
  });
});

test('two readings exchanged are far together', () => {
  // Both meters off by 0.1 against their own levels, in the third of five laps
  const groups = [0, 1, 0, 1, 0, 1, 0, 1, 0, 1];
  const y = groups.map((group, i) => (group === 1 ? 0.1 : 0) * (i === 4 || i === 5 ? -1 : 1));
  y[4] = 0.1;
  y[5] = 0;
  const levels = fitCourse(ordinaryCourses(groups)[0]!, y);
  const changes = [
    { index: 4, y: 0 },
    { index: 5, y: 0.1 },
  ];
  // Σ δ² · 0.8 = 0.016; 8 degrees less 2: 4 · (1 + 3/6) = 6: s² = 0.016/36 = 4.44e-4
  expect(
    [4.4e-4, 4.5e-4].map((floor) => explains(levels, y, changes, { floor, sigmas: 4 })),
  ).toEqual([true, false]);
});

describe('the entry that is impossible beside its neighbours', () => {
  const of = (last: number, checked = false, touched: readonly number[] = []) => {
    const at = 9;
    const runs = runsOf('RCRCRCRCRCRC', ({ place }) =>
      place === at ? last : place % 2 === 0 ? 46 : 41,
    ).map((run) => ({ ...run, checked: checked && run.run === at + 1 }));
    const entries = entriesOf(seriesOf(runs));
    const scene = sceneOf(
      entries,
      entries.map(({ y }) => y),
    )!;
    return wildEntry(entries, scene, new Set(touched));
  };

  test('is more than half as much again off, in either direction', () => {
    expect(of(41)).toBeNull();
    expect(of(41 * 1.45)).toBeNull();
    expect(of(41 * 1.6)).toMatchObject({ kind: 'other', found: 65.6, likely: null });
    expect(of(41 / 1.6)?.changes).toEqual([{ index: 9, y: Math.log(41 / 1.6) }]);
  });

  test('and is none that was checked, or mended already', () => {
    expect(of(41 * 1.6, true)).toBeNull();
    expect(of(41 * 1.6, false, [9])).toBeNull();
  });
});
