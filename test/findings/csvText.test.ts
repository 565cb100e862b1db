import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { csvText } from '../../src/findings/csvText.js';

/** The cell as another program reads it back. */
const written = (text: string) => {
  const { data } = Papa.parse<string[]>(csvText(['cell', 'next'], [[text, 'x']]));
  return data[1]?.[0];
};

describe('csvText', () => {
  // A spreadsheet reads a cell that begins with one of these as a formula (OWASP, CSV injection).
  it.each([
    '=1+1',
    '=cmd|" /C calc"!A0',
    '+49 170',
    '-2+3',
    '@SUM(A1)',
    '\t=1',
    '\uff1d1',
    '-',
    '-x',
  ])('makes %j harmless', (text) => {
    expect(written(text)).toBe(`'${text}`);
  });

  it.each([
    '-3',
    '+3',
    '-0.5',
    '-.5',
    '1e-3',
    '-1.2E+5',
    '-1e-12',
    '−3.1',
    '1.216 ± 0.045',
    '—',
    'a = b',
    'a, "b"',
  ])('leaves %j as it is', (text) => {
    expect(written(text)).toBe(text);
  });
});
