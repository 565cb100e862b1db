import { expect, test } from 'vitest';
import { either } from '../../src/record/faults.js';

test('up to eight words are all named, of more the first eight', () => {
  expect(['a', 'a b', 'a b c'].map((words) => either(words.split(' ')))).toEqual([
    'a',
    'a or b',
    'a, b or c',
  ]);
  expect(either([])).toBe('');
  expect(either([...'abcdefgh'])).toBe('a, b, c, d, e, f, g or h');
  expect(either([...'abcdefghi'])).toBe('a, b, c, d, e, f, g, h or one of 1 more');
});
