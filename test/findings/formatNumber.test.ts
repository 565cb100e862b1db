import { expect, test } from 'vitest';
import { finding, withHalf } from '../../src/findings/finding.js';
import {
  formatAlike,
  formatEstimate,
  formatInterval,
  formatWithin,
  shareText,
} from '../../src/findings/formatNumber.js';

test('a share of less than one percent is not none, and of nearly all not all', () => {
  expect([0, 0.001, 0.0049, 0.005, 0.5, 0.994, 0.996, 1].map(shareText)).toEqual([
    '0 %',
    'less than 1 %',
    'less than 1 %',
    '1 %',
    '50 %',
    '99 %',
    'nearly all',
    '100 %',
  ]);
});

test('numbers of one display have the same decimals, as far as their digits reach', () => {
  expect(formatAlike([73.1, 75])).toEqual(['73.1', '75.0']);
  expect(formatAlike([68, 77])).toEqual(['68', '77']);
  expect(formatAlike([8.25, 1203.4])).toEqual(['8.25', '1203']);
  expect(formatAlike([95.5, 103])).toEqual(['95.5', '103.0']);
  expect(formatAlike([212.4, 212, 0, -0.1], 6)).toEqual(['212.4', '212.0', '0', '\u22120.1']);
  expect(formatAlike([])).toEqual([]);
});

test('an interval has both ends to the same place, and a dash where one is missing', () => {
  // Half of it is 0.011, two digits of which end at the third place
  expect(formatInterval(0.91234, 0.93412)).toBe('0.912 to 0.934');
  expect(formatInterval(null, 0.93412, { unit: 'mW' })).toMatch(/^— to 0\.93\d* mW$/);
  expect(formatInterval(0.91234, null)).toMatch(/^0\.91\d* to —$/);
  expect(formatInterval(null, null)).toBe('—');
});

test('the uncertainty of a cell is half of its interval, where that has both ends', () => {
  expect(withHalf(1, { low: 0.9, high: 1.2 })).toEqual({
    value: 1,
    U: expect.closeTo(0.15, 12),
    both: false,
  });
  expect(withHalf(1, { low: null, high: 1.2 }, true)).toEqual({ value: 1, U: null, both: true });
  expect(withHalf(1, { low: 0.9, high: null })).toMatchObject({ U: null });
});

test('a finding says nothing beside its table unless it is given', () => {
  const bare = { id: 'a', title: 'A', columns: [], rows: [], empty: 'None.' };
  expect(finding(bare)).toEqual({ ...bare, notes: [], sentences: [] });
  expect(finding({ ...bare, notes: ['n'] }).notes).toEqual(['n']);
});

// Value and uncertainty end at the same place (JCGM 100:2008, 7.2.6): two digits of half the width.
test.each([
  [0.0291, -3.02, 3.08, '0.0 % (−3.0 to 3.1 %)'],
  [5.71, 2.47, 8.95, '5.7 % (2.5 to 9.0 %)'],
  [132.0311, 131.9623, 132.1, '132.031 % (131.962 to 132.100 %)'],
  [-0.5, -1, 0, '−0.50 % (−1.00 to 0.00 %)'],
  [5, 5, 5, '5 % (5 to 5 %)'],
  [5, 1.25, Number.POSITIVE_INFINITY, '5 % (1.25 to ∞ %)'],
  [5.71, null, null, '5.71 %'],
  [0.1, null, null, '0.1 %'],
  [null, 2.47, 8.95, '— (2.5 to 9.0 %)'],
])('%f between %f and %f', (value, low, high, text) => {
  expect(formatEstimate(value, low, high, { unit: '%' })).toBe(text);
  expect(formatWithin(value, low, high, { unit: '%' })).toBe(text.replace(/ \(.*/, ''));
});

test('an estimate given as a fraction, in percent', () => {
  expect(formatEstimate(0.0571, 0.0247, 0.0895, { as: 'percent' })).toBe('5.7 % (2.5 to 9.0 %)');
});
