import { describe, expect, test } from 'vitest';
import { requireConfidence, requireOptions } from '../../src/statistics/options.js';
import { errorOf } from '../record/support.js';

const KNOWN = { confidence: { maybe: 'confidence' }, wanted: true } as const;
const refused = (options: unknown) => {
  const { code, message } = errorOf(() => requireOptions(options as object, KNOWN as never));
  expect(code).toBe('argument-wrong');
  return message;
};

describe('options', () => {
  test.each([{}, { confidence: 0.9 }, { confidence: undefined }, { wanted: 'anything' }])(
    '%j pass as they are',
    (options) => {
      expect(requireOptions(options, KNOWN as never)).toBe(options);
    },
  );

  test.each<readonly [unknown, string]>([
    [0.9, 'Options belong in a record. Found: 0.9. Right would be: { confidence, wanted }.'],
    [
      [0.9],
      'Options belong in a record. Found: a list of 1. Right would be: { confidence, wanted }.',
    ],
    [null, 'Options belong in a record. Found: null. Right would be: { confidence, wanted }.'],
    [
      { confidense: 0.9 },
      'There is no such option. Did you mean "confidence"? Found: confidense. Right would be: confidence, wanted.',
    ],
    [{ x: 1 }, 'There is no such option. Found: x. Right would be: confidence, wanted.'],
    [
      { confidence: 95 },
      'confidence must be a confidence level between 0 and 1, such as 0.95. Found: 95.',
    ],
  ])('%j are refused', (options, said) => {
    expect(refused(options)).toBe(said);
  });
});

test('a confidence lies between 0 and 1', () => {
  for (const one of [1e-9, 0.5, 1 - 1e-9]) expect(() => requireConfidence(one)).not.toThrow();
  for (const one of [0, 1, -0.5, 95, Number.NaN]) {
    expect(errorOf(() => requireConfidence(one)).message).toMatch(/^The confidence must be a conf/);
  }
});
