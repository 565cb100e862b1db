/** What is said of each kind of suspect, word for word. */
import { expect, test } from 'vitest';
import {
  entryMessage,
  lapMessage,
  repeatedMessage,
  wholeMessage,
} from '../../../src/record/slips/slipMessage.js';

const TO_DO =
  'mend it in runs.csv, give a reason in the column exclude, or mark it in the column checked.';
const SLIP = {
  row: 4,
  rows: [4],
  series: 'green',
  meter: 'candidate',
  kind: 'decimal-place',
  found: 419,
  likely: 41.9,
} as const;

test.each([
  ['decimal-place', 'looks like 41.9 mW with the decimal point in another place'],
  ['digits', 'looks like 41.9 mW with two digits exchanged'],
  ['unit', 'looks like 41.9 mW in another unit'],
  ['other', 'is far from the runs around it, and no single slip of the pen explains it'],
] as const)('one number, %s', (kind, said) => {
  expect(entryMessage({ ...SLIP, kind, quantity: 'peak' })).toBe(
    `runs.csv, row 4: the peak 419 mW of the candidate in the series "green" ${said}; ${TO_DO}`,
  );
});

test.each([
  [[4], 'row 4'],
  [[4, 5], 'rows 4 and 5'],
  [[4, 6, 9], 'rows 4 to 9'],
])('rows %j are called "%s"', (rows, said) => {
  expect(lapMessage({ ...SLIP, rows, kind: 'exchanged' })).toBe(
    `runs.csv, ${said}: the two meters of this lap of the series "green" look exchanged, 419 mW was typed for the candidate and 41.9 mW is likely; ${TO_DO}`,
  );
});

test('a row written twice names its twin', () => {
  expect(repeatedMessage(7, 5, 'green')).toBe(
    'runs.csv, row 7: this row of the series "green" is the same as row 5 and looks written twice; delete one of them, give a reason in the column exclude, or mark it in the column checked.',
  );
});

test.each([
  [
    'exchanged',
    [],
    'the two meters look exchanged in the whole series "green", 419 mW was typed for the candidate where 41.9 mW is likely, as the other series of this wavelength show',
  ],
  [
    'exchanged',
    ['a', 'b'],
    'the two meters look exchanged in the whole series "green", either here or in "a", "b", and the data do not tell which',
  ],
  [
    'unit',
    [],
    'all readings of the candidate in the series "green" look typed in another unit, the first as 419 mW where 41.9 mW is likely',
  ],
  [
    'decimal-place',
    [],
    'all readings of the candidate in the series "green" look typed with the decimal point in another place, the first as 419 mW where 41.9 mW is likely',
  ],
  [
    'other',
    [],
    'the readings of the candidate in the series "green" are out of all proportion to the other meter\'s, and no single slip of the pen explains it',
  ],
] as const)('a whole series, %s, or %j', (kind, or, said) => {
  expect(wholeMessage({ ...SLIP, kind, or })).toBe(`runs.csv, row 4: ${said}; ${TO_DO}`);
});
