/** Files that earlier versions of the package wrote, kept as they were. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { MeterpairError } from '../../src/error.js';
import { correct } from '../../src/factors/correct.js';
import { parseFactors } from '../../src/factors/parseFactors.js';

const fileOf = (name: string) => readFileSync(new URL(name, import.meta.url), 'utf8');
const text = fileOf('factors-without-placement.json');

test('factors from before the spread of placements was written are read, and corrections say what they lack', () => {
  const factors = parseFactors(text);
  expect(factors.factors.map((entry) => entry.wavelength_nm)).toEqual([
    405, 450, 520, 532, 638, 808,
  ]);
  const found = correct(factors, { reading_mW: 42, wavelength_nm: 520 });
  const entry = factors.factors.find((one) => one.wavelength_nm === 520);
  expect(found.value).toBe(42 * (entry?.factor ?? Number.NaN));
  expect(found.cautions.map((one) => one.code)).toContain('placement-not-stated');
});

/** What 0.1.0 wrote of the demo 1-workshop-evening, before factors went by level of power. */
const FIRST = fileOf('factors-1.json');

describe('factors of the schema meterpair.factors/1', () => {
  const factors = parseFactors(FIRST, 'factors-1.json');
  const written = JSON.parse(FIRST);

  test('are read with every number that was written, as one level over their whole range', () => {
    expect(written.schema).toBe('meterpair.factors/1');
    expect(factors).toMatchObject({ ...written, schema: 'meterpair.factors/2', date: null });
    for (const entry of factors.factors) {
      expect(entry.offset_mW).toBeNull();
      expect(entry.levels).toHaveLength(1);
      expect(entry.levels[0]).toMatchObject({
        candidate_mW: entry.candidate_range_mW,
        factor: entry.factor,
        low: entry.low,
        high: entry.high,
      });
    }
    expect(factors.reading).toBeUndefined();
  });

  test('correct a reading inside their range: K times the reading, U of every part', () => {
    const found = correct(factors, { reading_mW: 70, wavelength_nm: 405 });
    expect(found.value).toBeCloseTo(70 * 1.2161584142652546, 10);
    const u = Object.fromEntries(
      found.parts.map((part) => [part.name, part.relative_standard_uncertainty]),
    );
    // Of the file: u of K, the spread of the next series, the scatter of a reading. Display and zero:
    // 1 mW ÷ √12 ÷ 70 mW. Another source, ± 5 nm: ln K falls by 0.1005 to the next wavelength, 45 nm on.
    expect(u['factor K']).toBeCloseTo(0.01997281505750138, 12);
    expect(u.placement).toBeCloseTo(0.012242710107917127, 12);
    expect(u['scatter of the reading']).toBeCloseTo(0.006786932776782866, 12);
    expect(u['display step']).toBeCloseTo(1 / Math.sqrt(12) / 70, 12);
    expect(u.zero).toBe(u['display step']);
    const perNm = Math.log(1.2161584142652546 / 1.0999023814254374) / 45;
    expect(u['wavelength of the source']).toBeCloseTo((perNm * 5) / Math.sqrt(3), 12);
    const all = Math.hypot(...Object.values(u));
    expect(found.U).toBeGreaterThan(1.9 * all * found.value);
    expect(found.U).toBeLessThan(2.1 * all * found.value);
  });

  test('say which readings they hold for is not known, and the rest as factors of today do', () => {
    const codes = (reading_mW: number, wavelength_nm: number) =>
      correct(factors, { reading_mW, wavelength_nm }).cautions.map((one) => one.code);
    expect(codes(70, 405)).toEqual([
      'reading-kind-not-stated',
      'factors-undated',
      'beyond-tolerance',
    ]);
    // Measured from 193 to 1652 mW, the next placement with two degrees of freedom.
    expect(codes(120, 450)).toEqual([
      'power-outside-range',
      'reading-kind-not-stated',
      'factors-undated',
      'placement-little-known',
      'beyond-tolerance',
    ]);
    expect(codes(30, 532)).toContain('factor-inconclusive');
    expect(codes(120, 430)).toContain('between-wavelengths');
  });

  test('refuse what they refused: far from the measured powers, beyond the measured wavelengths', () => {
    const code = (reading_mW: number, wavelength_nm: number) => {
      try {
        correct(factors, { reading_mW, wavelength_nm });
      } catch (error) {
        return error instanceof MeterpairError ? error.code : error;
      }
      return null;
    };
    expect(code(20, 405)).toBe('power-out-of-range');
    expect(code(70, 395)).toBe('wavelength-out-of-range');
    expect(code(3500, 450)).toBe('power-out-of-range');
  });
});
