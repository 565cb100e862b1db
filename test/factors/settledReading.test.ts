import { describe, expect, test } from 'vitest';
import { correct } from '../../src/factors/correct.js';
import type { ReadingKind } from '../../src/vocabulary.js';
import { entry, madeFactors } from '../madeFactors.js';
import { near } from '../near.js';

const SETTLED: ReadingKind = {
  kind: 'settled',
  read_at_s: 40,
  candidate_time_constant_s: 6,
  candidate_time_constant_standard_uncertainty_s: 0.3,
  why: '',
};
const of = (changes: Partial<ReadingKind> = {}) =>
  madeFactors(1, {
    date: '2024-05-01',
    reading: { ...SETTLED, ...changes },
    factors: [{ ...entry(520, 1.1, 0.01), next_series_relative_sd: 0.01, next_series_dof: 8 }],
  });
const take = (changes: Partial<ReadingKind>, read_at_s?: number, reading_mW = 50) => {
  const found = correct(of(changes), {
    reading_mW,
    wavelength_nm: 520,
    date: '2024-05-02',
    ...(read_at_s === undefined ? {} : { read_at_s }),
  });
  return {
    ...found,
    codes: found.cautions.map((one) => one.code),
    settling: found.parts.find((part) => part.name === 'settling'),
  };
};

describe('a reading taken early', () => {
  // τ = 6 s, read at 12 s: e⁻² = 0.135335 is missing.
  test('is divided by 1 − e^(−t/τ), with the uncertainty of both', () => {
    const found = take({}, 12);
    near(found.value, (1.1 * 50) / (1 - Math.exp(-2)), 1e-9);
    expect(found.codes).toContain('reading-brought-to-settled');
    // By τ: m·t/τ²·u(τ) = 0.135335·12/36·0.3 = 0.0135335; by the time, ± 1 s as a rectangle:
    // m/τ·1/√3 = 0.0130227; over 1 − m = 0.864665.
    near(
      found.settling?.relative_standard_uncertainty ?? 0,
      Math.hypot(0.0135335283, 0.0130226436) / 0.8646647168,
      1e-5,
    );
  });

  test('where more than half is missing, it says on what it rests', () => {
    const [caution] = take({}, 3, 20).cautions.filter(
      (one) => one.code === 'reading-brought-to-settled',
    );
    expect(caution?.message).toContain('More than half is missing');
  });

  test('after seven time constants nothing is said, and hardly anything changed', () => {
    const found = take({}, 42);
    near(found.value, 55 / (1 - Math.exp(-7)), 1e-9);
    expect(found.codes).toEqual([]);
  });
});

describe('what cannot be brought to one kind is cautioned, and the reading is left as it is', () => {
  test.each([
    ['no time constant', { candidate_time_constant_s: null }, 12, 'reading-may-be-early'],
    ['as read, at another time', { kind: 'as-read' as const }, 12, 'read-at-another-time'],
    [
      'settled, and the comparison read too early',
      { read_at_s: 10 },
      undefined,
      'settled-readings-only',
    ],
    [
      'settled, and its reading time unknown',
      { read_at_s: null },
      undefined,
      'settled-readings-only',
    ],
  ])('%s', (_, changes, read_at_s, code) => {
    const found = take(changes, read_at_s);
    near(found.value, 55, 1e-9);
    expect(found.codes).toEqual([code]);
    expect(found.settling).toBeUndefined();
  });

  test.each([
    ['settled, late enough in the comparison, nothing said of the new one', {}, undefined],
    ['as read, at the same time', { kind: 'as-read' as const, read_at_s: 12 }, 12],
    ['as read, nothing said', { kind: 'as-read' as const }, undefined],
  ])('no caution: %s', (_, changes, read_at_s) => {
    const found = take(changes, read_at_s);
    near(found.value, 55, 1e-9);
    expect(found.codes).toEqual([]);
  });

  test.each([0, -1, Number.NaN, Number.POSITIVE_INFINITY])('%s s is no reading time', (t) => {
    expect(() => take({}, t)).toThrow('A reading time in s must be');
  });
});
