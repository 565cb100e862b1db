import { expect, test } from 'vitest';
import { inTimeOrder, otherKind } from '../../src/factors/factorsToCompare.js';
import type { ReadingKind } from '../../src/vocabulary.js';

const kind = (kind: ReadingKind['kind'], read_at_s: number | null) =>
  ({ kind, read_at_s }) as ReadingKind;

test('readings are of one kind where both are settled, or taken at one time as far as is known', () => {
  const [settled, late, early, untimed] = [
    kind('settled', 30),
    kind('as-read', 30),
    kind('as-read', 10),
    kind('as-read', null),
  ];
  expect(otherKind(settled, kind('settled', 10))).toBe('');
  expect(otherKind(late, late)).toBe('');
  expect(otherKind(late, untimed)).toBe('');
  expect(otherKind(null, late)).toBe('');
  expect(otherKind(late, early)).toContain(
    'hold for readings taken 30 s after switch-on, these for readings taken 10 s after switch-on:',
  );
  expect(otherKind(settled, untimed)).toContain(
    'hold for settled readings, these for readings taken at a time that is not stated:',
  );
});

test('studies stand in the order of their days, and as given where one has none', () => {
  const days = (...dates: readonly (string | null)[]) =>
    inTimeOrder(dates.map((date) => ({ date }))).map(({ date }) => date);
  expect(days('2026-02-01', '2025-03-01', '2026-01-01')).toEqual([
    '2025-03-01',
    '2026-01-01',
    '2026-02-01',
  ]);
  expect(days('2026-02-01', null, '2025-03-01')).toEqual(['2026-02-01', null, '2025-03-01']);
});
