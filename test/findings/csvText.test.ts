import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { cellText, csvText } from '../../src/findings/csvText.js';

describe('cellText', () => {
  // A spreadsheet reads a cell that begins with one of = + - @ tab as a formula (OWASP, CSV injection).
  it.each([
    ['=1+1', "'=1+1"],
    ['=cmd|" /C calc"!A0', `"'=cmd|"" /C calc""!A0"`],
    ['+49 170', "'+49 170"],
    ['-2+3', "'-2+3"],
    ['@SUM(A1)', "'@SUM(A1)"],
    ['\t=1', "' =1"],
    ['\u0001=1', "'=1"],
    ['\uff1d1', "'\uff1d1"],
    ['-', "'-"],
    ['-x', "'-x"],
  ])('makes %j harmless', (text, safe) => {
    expect(cellText(text)).toBe(safe);
  });

  it.each([
    '-3',
    '+3',
    '-0.5',
    '-.5',
    '1e-3',
    '-1.2E+5',
    '12',
    '−3.1',
    '1.216 ± 0.045',
    '—',
    'a = b',
  ])('leaves %j as it is', (text) => {
    expect(cellText(text)).toBe(text);
  });

  it('writes nothing for what is missing, and quotes what would part a cell', () => {
    expect(cellText(null)).toBe('');
    expect(cellText(undefined)).toBe('');
    expect(cellText(-2.5)).toBe('-2.5');
    expect(cellText(true)).toBe('true');
    expect(cellText('a, b')).toBe('"a, b"');
    expect(cellText('say "so"')).toBe('"say ""so"""');
    expect(cellText('two\nlines')).toBe('two lines');
  });
});

describe('csvText', () => {
  it('is read back by another program as it was, apostrophes aside', () => {
    const rows = [
      { Series: 'red, bright', 'K with them': '1.0025', Note: '"odd"' },
      { Series: '=red', 'K with them': null, Note: '-7' },
    ];
    const { data } = Papa.parse(csvText(rows).slice(1), { header: true, skipEmptyLines: true });
    expect(data).toEqual([
      { Series: 'red, bright', 'K with them': '1.0025', Note: '"odd"' },
      { Series: "'=red", 'K with them': '', Note: '-7' },
    ]);
  });

  it('begins with a byte-order mark, ends each line with CRLF and takes the columns of every row', () => {
    expect(csvText([{ a: 1 }, { b: 2 }])).toBe('\ufeffa,b\r\n1,\r\n,2\r\n');
  });

  it('makes a heading harmless too', () => {
    expect(csvText([{ '=a': 1 }])).toBe("\ufeff'=a\r\n1\r\n");
  });
});
