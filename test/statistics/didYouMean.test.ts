import { expect, test } from 'vitest';
import { didYouMean } from '../../src/statistics/didYouMean.js';

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
