import { describe, expect, test } from 'vitest';
import { judgeLabel, type LabelInput } from '../../src/hazard/labelVerdict.js';

const QUIET: LabelInput = {
  label_class: null,
  label_max_mW: null,
  class: '3R',
  readingClass: '2',
  highest_mW: 4,
  upper_mW: 4.5,
  worstClass: null,
};
const judged = (changes: Partial<LabelInput>) => judgeLabel({ ...QUIET, ...changes });

test('a label without a word is none', () => {
  const none = { understates: null, why: 'The label states no class.' };
  expect([null, '', '  '].map((label_class) => judged({ label_class }))).toEqual([
    none,
    none,
    none,
  ]);
});

describe('the class on a label', () => {
  test.each<readonly [string, Partial<LabelInput>, boolean | null]>([
    ['as high as what cannot be excluded', { label_class: '3R' }, false],
    ['lower than that', { label_class: '2' }, true],
    ['lower, with nothing that bounds the power', { label_class: '2', upper_mW: null }, null],
    [
      'lower than the reading by itself',
      { label_class: '1', readingClass: '2', upper_mW: null },
      true,
    ],
    ['lower than the worst of unseparated infrared', { label_class: '3R', worstClass: '3B' }, null],
    ['of nobody', { label_class: 'X' }, null],
  ])('%s', (_, changes, understates) => {
    expect(judged(changes).understates).toBe(understates);
  });
});

describe('the power on a label', () => {
  const of = (highest_mW: number, upper_mW: number | null) => {
    const { understates, why } = judged({ label_max_mW: 5, highest_mW, upper_mW });
    return [understates, why.replace('The label promises at most 5 mW', '')];
  };

  test('is exceeded by a reading, told how many times from a tenth more on', () => {
    expect(of(5.4, 6)).toEqual([true, '; 5.4 mW were measured.']);
    expect(of(5.5, 6)).toEqual([true, '; 5.5 mW were measured, 1.1 times as much.']);
    expect(of(20, null)).toEqual([true, '; 20 mW were measured, 4 times as much.']);
  });

  test('is kept only where the uncertainty is within it too', () => {
    expect(of(5, 5)).toEqual([false, ': kept, with the uncertainty counted.']);
    expect(of(4, 5.1)).toEqual([null, ': the uncertainty reaches beyond it.']);
    expect(of(4, null)).toEqual([null, ': nothing bounds the power from above.']);
  });

  test('and the class both have to hold', () => {
    const both = (label_class: string, label_max_mW: number) =>
      judged({ label_class, label_max_mW }).understates;
    expect([both('3R', 5), both('3R', 3), both('2', 5), both('3R', 4.2)]).toEqual([
      false,
      true,
      true,
      null,
    ]);
  });
});
