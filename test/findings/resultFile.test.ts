import { describe, expect, it } from 'vitest';
import { MeterpairError } from '../../src/error.js';
import { resultFile } from '../../src/findings/resultFile.js';
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
});
