import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { ErrorParts } from '../../src/error.js';
import { jsonFault, jsonValue } from '../../src/record/jsonText.js';

const PLACE = { code: 'study-json-invalid', file: 'study.json' } as const;
const read = (text: string) => {
  const faults: ErrorParts[] = [];
  return { value: jsonValue(text, PLACE, faults), faults };
};

test.each([
  ['a comma too many', '{\n  "a": 1,\n}', 3, 1, 'comma too many'],
  ['a missing comma', '{\n  "a": 1\n  "b": 2\n}', 3, 3, 'comma is missing'],
  ['single quotation marks', "{ 'a': 1 }", 1, 3, 'straight double quotation marks'],
  ['typographic quotation marks', '{ “a”: 1 }', 1, 3, 'straight double quotation marks'],
  ['a comment', '{\n  // mine\n  "a": 1 }', 2, 3, 'no comments'],
  ['a comment behind a value', '{ "a": 1 # mine\n}', 1, 10, 'no comments'],
  ['a decimal comma', '{ "a": 1,5 }', 1, 10, 'decimal comma'],
  ['a unit', '{ "a": 5 % }', 1, 10, 'unit'],
  ['a missing value', '{ "a": , "b": 2 }', 1, 8, 'value is missing'],
  ['a missing colon', '{ "a" 1 }', 1, 7, 'colon'],
  ['a missing bracket', '{ "a": [1, 2 }', 1, 14, 'closing ]'],
  ['an early end', '{\n  "a": 1', 2, 9, 'ends too early'],
  ['an open text', '{ "a": "b }', 1, 8, 'closing quotation mark'],
  ['a text over two lines', '{ "a": "b\nc" }', 1, 8, 'over the end of the line'],
  ['a lone backslash', '{ "a": "C:\\data" }', 1, 11, 'backslash'],
  ['capital letters', '{ "a": True }', 1, 8, 'small letters'],
  ['a number like .5', '{ "a": .5 }', 1, 8, 'digit in front'],
  ['a number like 05', '{ "a": 05 }', 1, 9, 'JSON wants'],
  ['something behind the end', '{} {}', 1, 4, 'after the end'],
  ['nothing', '', 1, 1, 'ends too early'],
  ['a name twice', '{ "a": 1,\n  "a": 2 }', 2, 3, '"a" stands twice'],
])('%s is named with line and column', (_, text, line, column, words) => {
  const { value, faults } = read(text);
  expect(value).toBeUndefined();
  expect(faults).toHaveLength(1);
  expect(faults[0]).toMatchObject(PLACE);
  expect(faults[0]?.message).toContain(`line ${line}, column ${column}:`);
  expect(faults[0]?.message).toContain(words);
});

test('all kinds of line ending count lines alike', () => {
  for (const ending of ['\n', '\r\n', '\r']) {
    expect(read(`{${ending}"a": 1,${ending}}`).faults[0]?.message).toContain('line 3, column 1');
  }
});

test('a byte-order mark is passed over', () => {
  expect(read('\uFEFF{"a":1}').value).toEqual({ a: 1 });
});

test('a spreadsheet file under the name of a JSON file is recognised', () => {
  expect(read('PK\u0003\u0004').faults[0]?.message).toContain('spreadsheet');
});

test('brackets without end are refused, not followed', () => {
  expect(jsonFault('['.repeat(100_000))?.problem).toContain('too deep');
});

describe('against JSON.parse', () => {
  const parses = (text: string): boolean => {
    try {
      JSON.parse(text);
      return true;
    } catch {
      return false;
    }
  };

  test('whatever is JSON has no fault', () => {
    fc.assert(
      fc.property(fc.json({ maxDepth: 5 }), fc.constantFrom(undefined, 2, '\t'), (text, space) => {
        const spaced = JSON.stringify(JSON.parse(text), null, space);
        expect(jsonFault(spaced)).toBeNull();
      }),
      { seed: 7, numRuns: 300 },
    );
  });

  test('damaged JSON has a fault exactly when JSON.parse refuses it, or a name stands twice', () => {
    const letters = fc.constantFrom(...'{}[]",:. 0-15eE+\\u\n\ttnrfalse/\'');
    fc.assert(
      fc.property(
        fc.json({ maxDepth: 3 }),
        fc.nat(),
        letters,
        fc.boolean(),
        (text, at, put, cut) => {
          const place = at % (text.length + 1);
          const damaged = text.slice(0, place) + put + text.slice(place + (cut ? 1 : 0));
          const fault = jsonFault(damaged);
          if (fault?.problem.includes('stands twice')) return;
          expect({ damaged, sound: fault === null }).toEqual({ damaged, sound: parses(damaged) });
        },
      ),
      { seed: 7, numRuns: 3000 },
    );
  });
});
