import fc from 'fast-check';
import { expect, test } from 'vitest';
import { finiteJson } from '../../src/record/finiteJson.js';
import { twelveDigits } from './twelveDigits.js';

test('keeps the keys in the order the record was built', () => {
  expect(finiteJson({ b: 1, a: { d: null, c: 'x' } }, 'it')).toBe(
    '{\n  "b": 1,\n  "a": {\n    "d": null,\n    "c": "x"\n  }\n}\n',
  );
});

test('finds a number that is not finite wherever it hides', () => {
  fc.assert(
    fc.property(
      fc.array(fc.oneof(fc.constant('list'), fc.constant('record')), { maxLength: 8 }),
      (nest) => {
        const hidden = nest.reduce<unknown>(
          (inner, kind) => (kind === 'list' ? [0, inner] : { good: 1, inner }),
          Number.NaN,
        );
        expect(() => finiteJson(hidden, 'it')).toThrow('not a finite number');
      },
    ),
    { seed: 4, numRuns: 200 },
  );
});

test('writes any plain data so that reading gives it back', () => {
  fc.assert(
    fc.property(fc.jsonValue(), (value) => {
      expect(JSON.parse(finiteJson(value, 'it'))).toEqual(
        twelveDigits(JSON.parse(JSON.stringify(value))),
      );
    }),
    { seed: 5, numRuns: 300 },
  );
});

test('refuses what JSON would drop or change in silence', () => {
  for (const lost of [[undefined], { a: () => 1 }, { a: new Date(0) }, { a: 1n }, new Map()]) {
    expect(() => finiteJson(lost, 'it')).toThrow('not plain data');
  }
});
