import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { exactInterval, pageOf, rowsOf, stratified } from '../../scripts/mutation-page.mjs';

const PAGE = readFileSync(new URL('../../docs/mutation.md', import.meta.url), 'utf8');

test('the exact interval is that of SciPy and of the formula', () => {
  // SciPy 1.17.1: binomtest(682, 925).proportion_ci(0.95, 'exact')
  expect(exactInterval(682, 925).map((one) => one.toFixed(7))).toEqual(['0.7076683', '0.7654066']);
  // All of 10 seen: the share whose tenth power is 0.025. None of 10: its mirror.
  const [low, high] = exactInterval(10, 10);
  expect(low).toBeCloseTo(0.025 ** 0.1, 10);
  expect(high).toBe(1);
  expect(exactInterval(0, 10)).toEqual([0, expect.closeTo(1 - 0.025 ** 0.1, 10)]);
});

test('the share of all weighs each row by its faults', () => {
  // 900 faults of which 8 of 10 drawn are seen, 100 of which all were put in and 50 seen:
  // 0.9 · 0.8 + 0.1 · 0.5 = 0.77. Only the first varies, with 9/12 for its share:
  // 0.9² · (1 − 10/900) · (9/12) · (3/12) / 9 = 0.0166875, its root 0.129180; 1.96 of it 0.253193.
  const rows = [
    { faults: 900, seen: 8, unseen: 2 },
    { faults: 100, seen: 50, unseen: 50 },
  ];
  const { share, low, high } = stratified(rows);
  expect(share).toBeCloseTo(0.77, 12);
  expect(low).toBeCloseTo(0.77 - 0.253193, 6);
  expect(high).toBe(1);
});

test('the page is what its rows make, and a room counts once', () => {
  const rows = rowsOf(PAGE);
  expect(rows.length).toBeGreaterThan(10);
  expect(pageOf(rows)).toBe(PAGE);
  const [first] = rows;
  const again = { ...first!, what: 'sampled', seed: '1', faults: 100, seen: 9, unseen: 1 };
  const lastOf = (page: string) => page.split('\n').find((line) => line.startsWith('| all |'));
  const page = pageOf([...rows, { ...again, seed: '2' }, { ...again, seen: 1, unseen: 9 }]);
  expect(lastOf(page)).toBe(lastOf(pageOf([...rows, again])));
  expect(page).toContain('| `sampled` |');
  expect(page.indexOf('(0.3 % to')).toBeLessThan(page.indexOf('(55.5 % to'));
});
