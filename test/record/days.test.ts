import { expect, test } from 'vitest';
import {
  isBefore,
  isDay,
  monthsBetween,
  monthsLater,
  yearsBetween,
} from '../../src/record/days.js';

test('years and months between days, by the calendar', () => {
  expect(yearsBetween('2021-01-01', '2025-01-01')).toBeCloseTo(4, 9);
  expect(monthsBetween('2025-03-14', '2026-09-14')).toBe(18);
  expect(monthsBetween('2026-09-14', '2025-03-14')).toBe(-18);
  expect(monthsBetween('2024', '2024-07')).toBe(6);
});

test.each([
  ['2025-03-14', 12, '2026-03-14'],
  ['2025-11-30', 3, '2026-03-02'],
  ['2024-05', 6, '2024-11-01'],
  ['2025-01-01', 0.5, '2025-01-16'],
])('%s and %s months later', (day, months, later) => {
  expect(monthsLater(day, months)).toBe(later);
});

test('days that can be read in one way only', () => {
  expect(['2024', '2024-02', '2024-02-29'].map(isDay)).toEqual([true, true, true]);
  const others = ['', '5', '2023-02-29', '2024-13', '2024-2-1', '1.2.2024', '2024-02-29T10:00'];
  expect(others.filter(isDay)).toEqual([]);
});

test('a day is before another as far as both are stated', () => {
  expect(isBefore('2024-04-30', '2024-05')).toBe(true);
  expect(isBefore('2024', '2024-05')).toBe(false);
  expect(isBefore('2024-05', '2024')).toBe(false);
  expect(isBefore('2024-06', '2024-05-31')).toBe(false);
});
