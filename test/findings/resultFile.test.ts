import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MeterpairError } from '../../src/error.js';
import { resultFile } from '../../src/findings/resultFile.js';
import { finiteJson } from '../../src/record/finiteJson.js';
import { twelveDigits } from '../record/twelveDigits.js';
import { exampleResult } from '../report/exampleResult.js';

describe('resultFile', () => {
  it('writes the same bytes for the same result, two spaces deep, with a newline at the end', () => {
    const text = resultFile(exampleResult());
    expect(text).toBe(resultFile(exampleResult()));
    expect(text.startsWith('{\n  "schema": "meterpair.result/2",\n')).toBe(true);
    expect(text.endsWith('\n}\n')).toBe(true);
    expect(JSON.parse(text)).toEqual(twelveDigits(exampleResult()));
  });

  it('keeps the keys in the order the record was built', () => {
    expect(finiteJson({ b: 1, a: { d: null, c: 'x' } }, 'it')).toBe(
      '{\n  "b": 1,\n  "a": {\n    "d": null,\n    "c": "x"\n  }\n}\n',
    );
  });

  it.each([
    [Number.NaN, 'NaN'],
    [Number.POSITIVE_INFINITY, 'Infinity'],
    [Number.NEGATIVE_INFINITY, '-Infinity'],
  ])('refuses %s and names its path', (wrong, found) => {
    const good = exampleResult();
    const wavelengths = good.wavelengths.map((one, i) =>
      i === 2 ? { ...one, factor: wrong } : one,
    );
    const write = () => resultFile({ ...good, wavelengths });
    expect(write).toThrow(MeterpairError);
    expect(write).toThrow('result.wavelengths[2].factor is not a finite number');
    expect(write).toThrow(`Found: ${found}`);
  });

  it('finds a number that is not finite wherever it hides', () => {
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

  it('writes any plain data so that reading gives it back', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        expect(JSON.parse(finiteJson(value, 'it'))).toEqual(
          twelveDigits(JSON.parse(JSON.stringify(value))),
        );
      }),
      { seed: 5, numRuns: 300 },
    );
  });

  it('refuses what JSON would drop or change in silence', () => {
    for (const lost of [[undefined], { a: () => 1 }, { a: new Date(0) }, { a: 1n }, new Map()]) {
      expect(() => finiteJson(lost, 'it')).toThrow('not plain data');
    }
  });
});
