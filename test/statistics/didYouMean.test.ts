import { expect, test } from 'vitest';
import { didYouMean, suggestion } from '../../src/statistics/didYouMean.js';

const KNOWN = [
  'series',
  'source',
  'reading_mW',
  'reading_W',
  'reference_mW',
  'wavelength_nm',
  'run',
];

test.each([
  ['Reading_MW', 'reading_mW'],
  ['reading (mW)', 'reading_mW'],
  ['raeding_mW', 'reading_mW'],
  ['reading', 'reading_mW'],
  ['ref_mW', 'reference_mW'],
  ['referenz_mW', 'reference_mW'],
  ['wavelenght_nm', 'wavelength_nm'],
  ['wavelength', 'wavelength_nm'],
  ['sources', 'source'],
  ['serie', 'series'],
])('"%s" meant %s', (typed, meant) => {
  expect(didYouMean(typed, KNOWN)).toBe(meant);
});

test.each(['', '_', 'x', 'humidity', 'power', 're', '__proto__', 'constructor'])(
  '"%s" meant nothing known',
  (typed) => {
    expect(didYouMean(typed, KNOWN)).toBeNull();
  },
);

test('nothing known, nothing meant', () => {
  expect(didYouMean('series', [])).toBeNull();
});

test.each<readonly [string, readonly string[], string | null]>([
  // The same letters come before a shortened form, that before slips; among equals the earliest.
  ['run', ['runs', 'r-u-n'], 'r-u-n'],
  ['abc', ['abd', 'abcdef'], 'abcdef'],
  ['abcd', ['abce', 'abcf'], 'abce'],
  ['abcdefgh', ['abcdefxy', 'abcdefgx'], 'abcdefgx'],
  ['abcdefgh', ['abcdefgx', 'abcdefxy'], 'abcdefgx'],
  ['ABC', ['abc'], 'abc'],
  ['µm', ['um'], 'um'],
  ['μW', ['uW'], 'uW'],
  ['a1', ['a2', 'A-1'], 'A-1'],
  ['größe', ['grÖße'], 'grÖße'],
  // One slip in words of three to seven letters, two from eight on, three from twelve on
  ['abc', ['abx'], 'abx'],
  ['abc', ['axy'], null],
  ['abcdefg', ['abcdexy'], null],
  ['abcdefgh', ['abcdefxy'], 'abcdefxy'],
  ['abcdefgh', ['abcdexyz'], null],
  ['abcdefghijk', ['abcdefghxyz'], null],
  ['abcdefghijkl', ['abcdefghixyz'], 'abcdefghixyz'],
  // The longer of both words counts.
  ['abcdefg', ['abcdefxy'], 'abcdefxy'],
  ['abcdefxy', ['abcdefg'], 'abcdefg'],
  // Put in, left out, swapped, at the beginning and at the end
  ['xabc', ['abc'], 'abc'],
  ['abcx', ['abc'], 'abc'],
  ['bcd', ['abcd'], 'abcd'],
  ['bacd', ['abcd'], 'abcd'],
  ['abdc', ['abcd'], 'abcd'],
  ['bca', ['abc'], null],
  ['badc', ['abcd'], null],
  ['badcefgh', ['abcdefgh'], 'abcdefgh'],
  ['acb', ['xyz', 'abc'], 'abc'],
  // Both words of three letters at least
  ['ab', ['abc'], null],
  ['abc', ['bc'], null],
  ['abc', ['bc', 'abd'], 'abd'],
  ['a', ['a'], null],
  ['ab', ['A B'], 'A B'],
  // Shortened part by part, the first part of three letters at least
  ['ref_m', ['reference_mW'], 'reference_mW'],
  ['reference', ['reference_mW'], 'reference_mW'],
  ['re_mW', ['reference_mW'], null],
  ['ref_mW_x', ['reference_mW'], null],
  ['ref_nm', ['reference_mW'], null],
  ['reference_mWs', ['ref_mW'], 'ref_mW'],
  ['mW_ref', ['reference_mW'], null],
  ['_ref', ['reference_mW'], 'reference_mW'],
  ['ref__mW', ['reference_mW'], 'reference_mW'],
  ['wave µ', ['wavelength_um'], 'wavelength_um'],
])('%s among %j: %s', (typed, known, meant) => {
  expect(didYouMean(typed, known)).toBe(meant);
});

test('texts of more than 200 letters are no names', () => {
  const long = (n: number) => 'a'.repeat(n);
  expect(didYouMean(long(200), [long(200)])).toBe(long(200));
  expect(didYouMean(long(201), [long(201)])).toBeNull();
  expect(didYouMean(`b${long(199)}`, [long(200)])).toBe(long(200));
  expect(didYouMean(`b${long(199)}`, [long(201), long(200)])).toBe(long(200));
  expect(didYouMean(`b${long(199)}`, [long(201)])).toBeNull();
});

test('the end of a message', () => {
  expect(suggestion('serie', KNOWN)).toBe(' Did you mean "series"?');
  expect(suggestion('humidity', KNOWN)).toBe('');
});
