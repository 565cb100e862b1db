import { describe, expect, test } from 'vitest';
import {
  isRecord,
  requireAsMany,
  requireList,
  requireNumbers,
  requireRecord,
  requireShape,
  type Shape,
  shown,
} from '../../src/statistics/shapes.js';
import { errorOf } from '../record/support.js';

const refused = (value: unknown, shape: Shape) => () => requireShape(value, 'It', shape);

describe('a shape lets its own through and names the place of anything else', () => {
  const NAN = Number.NaN;
  test.each<readonly [Shape, readonly unknown[], readonly unknown[]]>([
    ['number', [-1, 0], [NAN, Number.POSITIVE_INFINITY, '1', null]],
    ['any-number', [Number.POSITIVE_INFINITY], [NAN, '1']],
    ['not-negative', [0, 2], [-1e-9, NAN]],
    ['above-zero', [1e-9], [0, -1, Number.POSITIVE_INFINITY]],
    ['fraction', [0.5], [0, 1, NAN]],
    ['text', ['', 'a'], [1]],
    ['yes-or-no', [false], [0]],
    ['function', [() => 1], [1]],
    [
      ['one', 'two'],
      ['one', 'two'],
      ['three', 1],
    ],
    [{ maybe: 'number' }, [1, undefined], ['1', null]],
    [{ orNull: 'number' }, [1, null], ['1', undefined]],
    [{ list: 'number' }, [[], [1, 2], new Float64Array(2)], [1, 'ab', [1, '2']]],
    [{ fields: { a: 'number' } }, [{ a: 1 }, { a: 1, b: 2 }], [{}, { a: 'x' }, null, [1]]],
  ])('%j', (shape, right, wrong) => {
    for (const one of right) expect(refused(one, shape)).not.toThrow();
    for (const one of wrong) expect(refused(one, shape)).toThrow(/^It /);
  });

  test('the entry of a list and the field of a record are named', () => {
    const shape = { list: { fields: { a: 'number' } } } as const;
    expect(refused([{ a: 1 }, { a: '2' }], shape)).toThrow(
      'It (2) (a) must be a finite number. Found: the text "2".',
    );
    expect(refused('three', ['one', 'two'])).toThrow('Right would be: one, two.');
  });
});

test('a record says which of its fields are missing, or that it is none', () => {
  expect(() => requireRecord({ a: 1 }, 'It', ['a', 'b'])).toThrow(
    'It must be a record with a, b. Found: no b.',
  );
  expect(() => requireRecord(7, 'It', ['a', 'b'])).toThrow('Found: 7.');
  expect(() => requireRecord(7, 'It', [])).toThrow('It must be a record.');
  expect(() => requireRecord(Promise.resolve({ a: 1 }), 'It', ['a'])).toThrow('await missing');
  expect(() => requireRecord({ a: 1 }, 'It', ['a'])).not.toThrow();
});

test('a list of numbers holds no texts', () => {
  expect(() => requireNumbers([1, '42'], 'The list')).toThrow('Found: the text "42".');
  expect(() => requireNumbers([1, 42], 'The list')).not.toThrow();
});

test('what was found, in words', () => {
  expect([[1, 2], { a: 1 }, null, undefined, () => 1, 3].map(shown)).toEqual([
    'a list of 2',
    'another record',
    'null',
    'undefined',
    'a function',
    '3',
  ]);
});

describe('where and what, in every sentence', () => {
  const NAN = Number.NaN;
  test.each<readonly [Shape, unknown, string]>([
    ['number', NAN, 'It must be a finite number. Found: NaN.'],
    ['any-number', '1', 'It must be a number. Found: the text "1".'],
    ['not-negative', -0.1, 'It must be a finite number of 0 or above. Found: -0.1.'],
    [
      'not-negative',
      Number.POSITIVE_INFINITY,
      'It must be a finite number of 0 or above. Found: Infinity.',
    ],
    ['above-zero', 0, 'It must be a finite number above 0. Found: 0.'],
    ['confidence', 1, 'It must be a confidence level between 0 and 1, such as 0.95. Found: 1.'],
    ['confidence', 0, 'It must be a confidence level between 0 and 1, such as 0.95. Found: 0.'],
    [
      'confidence',
      '0.5',
      'It must be a confidence level between 0 and 1, such as 0.95. Found: the text "0.5".',
    ],
    ['fraction', 1, 'It must be a fraction between 0 and 1. Found: 1.'],
    ['fraction', '0.5', 'It must be a fraction between 0 and 1. Found: the text "0.5".'],
    ['text', 5, 'It must be a text. Found: 5.'],
    ['yes-or-no', 'true', 'It must be true or false. Found: the text "true".'],
    ['function', {}, 'It must be a function. Found: another record.'],
    [['a', 'b'], 'c', 'It must be one of these words. Found: the text "c". Right would be: a, b.'],
    [{ list: 'number' }, 3, 'It must be a list. Found: 3. Right would be: an array.'],
    [{ list: 'number' }, [1, NAN], 'It (2) must be a finite number. Found: NaN.'],
    [
      { list: { list: 'number' } },
      [[], [1, 'x']],
      'It (2) (2) must be a finite number. Found: the text "x".',
    ],
    [{ fields: { a: 'text' } }, [], 'It must be a record. Found: a list of 0.'],
    [
      { fields: { a: 'text', b: 'number' } },
      { a: '', b: '' },
      'It (b) must be a finite number. Found: the text "".',
    ],
    [{ maybe: { list: 'text' } }, [1], 'It (1) must be a text. Found: 1.'],
    [
      { orNull: ['a'] },
      'b',
      'It must be one of these words. Found: the text "b". Right would be: a.',
    ],
  ])('%j: %j', (shape, value, said) => {
    expect(errorOf(refused(value, shape)).message).toBe(said);
  });

  test('a confidence within its bounds passes', () => {
    expect(refused(0.999, 'confidence')).not.toThrow();
    expect(refused(0.001, 'confidence')).not.toThrow();
  });
});

test.each<readonly [unknown, boolean]>([
  [{}, true],
  [Object.create(null), true],
  [[], false],
  [null, false],
  [undefined, false],
  ['a', false],
  [() => 1, false],
  [Promise.resolve(1), false],
])('%o is a record: %s', (value, is) => {
  expect(isRecord(value)).toBe(is);
});

test('lists of every kind, and no others', () => {
  for (const list of [[], [1], new Float64Array(1)]) {
    expect(() => requireList(list, 'It')).not.toThrow();
    expect(() => requireNumbers(list as number[], 'It')).not.toThrow();
  }
  for (const other of [{ length: 1 }, 'a', null, new Set([1])]) {
    expect(() => requireList(other, 'It')).toThrow(/^It must be a list\. Found: .* an array\.$/);
    expect(() => requireNumbers(other as never, 'It')).toThrow('It must be a list.');
  }
  // What is not finite is a number; every entry is looked at.
  expect(() => requireNumbers([Number.NaN, Number.POSITIVE_INFINITY], 'It')).not.toThrow();
  expect(() => requireNumbers([null, 1], 'It')).toThrow(
    'It must be a list of numbers. Found: null.',
  );
});

test('lists of unequal length', () => {
  expect(() => requireAsMany([1, 2], ['a', 'b'], 'As many.')).not.toThrow();
  expect(() => requireAsMany([], [], 'As many.')).not.toThrow();
  expect(errorOf(() => requireAsMany([1], [], 'As many.')).message).toBe(
    'As many. Found: 1 and 0.',
  );
  expect(() => requireAsMany([1], [1, 2], 'As many.')).toThrow('Found: 1 and 2.');
});

test('what was found: a text ends after sixty letters', () => {
  expect(shown('a'.repeat(61))).toBe(`the text "${'a'.repeat(60)}"`);
  expect(shown(Promise.resolve())).toBe('a promise (is an await missing?)');
  expect([true, Number.NaN].map(shown)).toEqual(['true', 'NaN']);
});

test('all that is missing is named; of a record without any, what it is', () => {
  const of = (value: unknown) => () => requireRecord(value, 'It', ['a', 'b', 'c']);
  expect(errorOf(of({ b: undefined })).message).toBe(
    'It must be a record with a, b, c. Found: no a, c.',
  );
  expect(of({})).toThrow('Found: another record.');
  expect(of([])).toThrow('Found: a list of 0.');
  expect(of({ a: 0, b: 0, c: 0, d: 0 })).not.toThrow();
});
