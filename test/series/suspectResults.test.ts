import { expect, test } from 'vitest';
import { suspectResults } from '../../src/series/suspectResults.js';
import { analysed, suspectIn } from '../analysed.js';

const factor = (value: number | null) =>
  analysed({
    id: 'b',
    factor: { value, relative_standard_uncertainty: null, dof: null, low: null, high: null },
  });
const other = analysed({ id: 'a' });
const readings = {
  typed: [other, factor(1.23456)],
  without: [other, factor(null)],
  likely: [other, factor(1.11111)],
};

test('K of the series of the entry, as typed, without it, and with the likely value', () => {
  const [found] = suspectResults([suspectIn('b')], readings);
  expect(found).toEqual({
    ...suspectIn('b'),
    why: found.why,
    factor_as_typed: 1.23456,
    factor_without: null,
    factor_likely: 1.11111,
  });
  expect(found.why).toBe(
    'The series "b" gives K = 1.235 as typed, without this entry no factor, with the likely value K = 1.111.',
  );
});

test('without a likely value none is claimed', () => {
  const [found] = suspectResults([suspectIn('b', { likely: null })], readings);
  expect(found.factor_likely).toBeNull();
  expect(found.why).toBe('The series "b" gives K = 1.235 as typed, without this entry no factor.');
});

test('a series that is not there has no factor', () => {
  const [found] = suspectResults([suspectIn('c')], readings);
  expect([found.factor_as_typed, found.factor_likely]).toEqual([null, null]);
});
