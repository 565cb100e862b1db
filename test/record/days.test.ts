import { expect, test } from 'vitest';
import { monthsBetween, monthsLater, yearsBetween } from '../../src/record/days.js';

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
