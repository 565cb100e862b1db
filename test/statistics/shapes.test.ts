import { describe, expect, test } from 'vitest';
import {
  requireNumbers,
  requireRecord,
  requireShape,
  type Shape,
  shown,
} from '../../src/statistics/shapes.js';

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
