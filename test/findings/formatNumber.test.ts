import { expect, test } from 'vitest';
import { finding, withHalf } from '../../src/findings/finding.js';
import { formatInterval, shareText } from '../../src/findings/formatNumber.js';

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
