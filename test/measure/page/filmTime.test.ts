import { describe, expect, test } from 'vitest';
import { litByFile, localText, typedTime } from '../../../src/measure/page/filmTime.js';

// 14 March 2026, 19:04:30 on the clock of whoever runs this.
const SAVED = new Date(2026, 2, 14, 19, 4, 30).getTime();
const told = (text: string, saved = SAVED) => {
  const at = typedTime(text, saved);
  return at === null ? null : localText(at);
};

describe('the moment at which the beam of a film went on', () => {
  test('is when the file was saved, less what comes after the first lit frame', () => {
    // 60 s long, lit after 20 s: 40 s before 19:04:30.
    expect(localText(litByFile({ saved_ms: SAVED, lit_s: 20 }, 60)!)).toBe('2026-03-14 19:03:50');
  });

  test.each([Number.NaN, Number.POSITIVE_INFINITY])('is not told by a length of %d', (length) => {
    expect(litByFile({ saved_ms: SAVED, lit_s: 20 }, length)).toBeNull();
  });

  test('is not told without a lit frame', () => {
    expect(litByFile({ saved_ms: SAVED, lit_s: null }, 60)).toBeNull();
  });

  test.each([
    ['19:03:50', '2026-03-14 19:03:50'],
    ['9:03', '2026-03-14 09:03:00'],
    // Not yet come when the film was saved: the evening before.
    ['23:55', '2026-03-13 23:55:00'],
    ['2026-03-01 23:55:10', '2026-03-01 23:55:10'],
    ['2026-03-01T23:55', '2026-03-01 23:55:00'],
  ])('%s is %s', (typed, expected) => {
    expect(told(typed)).toBe(expected);
  });

  test.each(['', '24:00', '12:60', '12:00:60', '190350', '2026-02-30 12:00', '-', '19.03'])(
    '"%s" is no time',
    (typed) => {
      expect(told(typed)).toBeNull();
    },
  );
});
