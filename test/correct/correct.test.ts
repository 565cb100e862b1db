import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { correct, SAME_WAVELENGTH_NM } from '../../src/correct/index.js';
import { coverageFactor } from '../../src/statistics/distributions.js';
import type { Factors } from '../../src/vocabulary.js';
import { near } from '../agree/near.js';
import { errorOf } from '../record/support.js';
import { ENTRY, FACTORS } from './support.js';

const codes = (found: { readonly cautions: readonly { readonly code: string }[] }) =>
  found.cautions.map((one) => one.code);
const only = (change: Partial<Factors>): Factors => ({ ...FACTORS, ...change });

describe('the arithmetic, done by hand', () => {
  // 46 mW × 1.1 = 50.6 mW. Parts: 1.2 % (9 dof), 0.5 % (16 dof), 1 mW/√12/46 mW = 0.627555 % (exact);
  // u = √(1.44 + 0.25 + 0.393826)·1e-2 = 1.443546e-2 (JCGM 100:2008, 5.1.6);
  // ν = 1.443546⁴ / (1.2⁴/9 + 0.5⁴/16) = 4.342330 / 0.234306 = 18.53 (G.4.1)
  const found = correct(FACTORS, { reading_mW: 46, wavelength_nm: 520 });

  test('value, u, degrees of freedom and U', () => {
    near(found.value, 50.6, 1e-12);
    expect(found.factor).toBe(1.1);
    near(found.dof, 18.53, 5e-3);
    near(found.k, 2.0966, 5e-4);
    near(found.U / found.k / 50.6, 1.443546e-2, 1e-8);
    near(found.U, 1.5315, 1e-3);
    expect(found.cautions).toEqual([]);
  });

  test('k is Student’s t at those degrees of freedom, between the rows 18 and 19 of table G.2', () => {
    // JCGM 100:2008, table G.2, 95 %: 2.10 (18) and 2.09 (19)
    expect(found.k).toBeGreaterThan(2.085);
    expect(found.k).toBeLessThan(2.105);
    near(found.k, coverageFactor(0.95, found.dof), 1e-12);
  });

  test('the interval is symmetric on the log scale and about as wide as ± U', () => {
    near(found.low * found.high, 50.6 ** 2, 1e-9);
    near((found.high - found.low) / 2 / found.U, 1, 1e-3);
  });
});

describe('another day', () => {
  const spread = (sd: number | undefined, dof = 8): Factors =>
    only({
      factors: [
        {
          ...ENTRY,
          next_series_relative_sd: sd,
          next_series_dof: sd === undefined ? undefined : dof,
        },
      ],
    });

  test('what one placement differs from the next adds as one more part', () => {
    // u² = 1.2² + 1.0² + 0.5² + 0.627555² = 3.083826, in (1e-2)²;
    // ν = 3.083826² / (1.2⁴/9 + 1/8 + 0.5⁴/16) = 9.509983 / 0.359306 = 26.47
    const found = correct(spread(0.01), { reading_mW: 46, wavelength_nm: 520 });
    near(found.U / found.k / found.value, Math.sqrt(3.083826) * 1e-2, 1e-8);
    near(found.dof, 26.47, 5e-3);
    expect(found.cautions).toEqual([]);
  });

  test('a corrected reading that is not known to the tolerance says so', () => {
    const found = correct(spread(0.02), { reading_mW: 46, wavelength_nm: 520 });
    expect(Math.log(found.high / found.value)).toBeGreaterThan(0.05);
    expect(codes(found)).toEqual(['beyond-tolerance']);
  });

  test('factors that do not say it are used with a caution', () => {
    const found = correct(spread(undefined), { reading_mW: 46, wavelength_nm: 520 });
    near(found.U, correct(spread(0), { reading_mW: 46, wavelength_nm: 520 }).U, 1e-12);
    expect(codes(found)).toEqual(['placement-not-stated']);
  });

  test('between two wavelengths the larger spread counts, and none where one is silent', () => {
    const pair = (one: number | undefined, other: number | undefined) =>
      correct(
        only({
          factors: [
            { ...FACTORS.factors[0]!, next_series_relative_sd: one },
            { ...FACTORS.factors[1]!, next_series_relative_sd: other },
          ],
        }),
        { reading_mW: 50, wavelength_nm: 590 },
      );
    const u = (found: ReturnType<typeof pair>) => found.U / found.k / found.value;
    near(u(pair(0.01, 0.02)) ** 2 - u(pair(0, 0)) ** 2, 0.02 ** 2, 1e-9);
    expect(codes(pair(0.01, undefined))).toContain('placement-not-stated');
  });
});

describe('between wavelengths', () => {
  const at = (nm: number) => correct(FACTORS, { reading_mW: 50, wavelength_nm: nm });

  test('the factor is the geometric middle of both neighbours, with a caution', () => {
    const found = at(590);
    near(found.factor, Math.sqrt(1.1 * 1.2), 1e-12);
    expect(codes(found)).toEqual(['between-wavelengths', 'beyond-tolerance']);
    expect(found.cautions[0]!.message).toContain('520 and 650 nm');
  });

  test('their distance enters as a rectangle: half of it over √3', () => {
    // JCGM 100:2008, 4.3.7; with the larger standard uncertainty of both neighbours
    const u = Math.hypot(
      0.015,
      Math.log(1.2 / 1.1) / 2 / Math.sqrt(3),
      0.005,
      1 / Math.sqrt(12) / 50,
    );
    const found = at(590);
    near(found.U / found.k / found.value, u, 1e-12);
  });

  test('the interval holds both neighbours’ own intervals', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 500, max: 2000 }).map((x) => x / 1000),
        fc.integer({ min: 500, max: 2000 }).map((x) => x / 1000),
        fc.integer({ min: 1, max: 50 }).map((x) => x / 1000),
        fc.integer({ min: 2, max: 100 }),
        fc.integer({ min: 523, max: 647 }),
        fc.constantFrom(0.5, 0.9, 0.95, 0.99),
        (one, two, u, dof, nm, confidence) => {
          const entry = (wavelength_nm: number, factor: number) => ({
            ...ENTRY,
            wavelength_nm,
            factor,
            low: factor * Math.exp(-2 * u),
            high: factor * Math.exp(2 * u),
            relative_standard_uncertainty: u,
            dof,
          });
          const factors = only({ confidence, factors: [entry(520, one), entry(650, two)] });
          const found = correct(factors, { reading_mW: 50, wavelength_nm: nm });
          const dust = 1e-12;
          const low = Math.min(one, two) * Math.exp(-2 * u);
          const high = Math.max(one, two) * Math.exp(2 * u);
          expect(found.low / 50).toBeLessThanOrEqual(low + dust);
          expect(found.high / 50).toBeGreaterThanOrEqual(high - dust);
          expect((found.value - found.U) / 50).toBeLessThanOrEqual(low + dust);
          expect((found.value + found.U) / 50).toBeGreaterThanOrEqual(high - dust);
        },
      ),
      { seed: 31, numRuns: 300 },
    );
  });

  test(`up to ${SAME_WAVELENGTH_NM} nm away counts as measured`, () => {
    expect(codes(at(522))).toEqual([]);
    expect(codes(at(518))).toEqual([]);
    expect(codes(at(522.1))).toEqual(['between-wavelengths', 'beyond-tolerance']);
  });

  test('the order of the entries does not matter', () => {
    const turned = only({ factors: [...FACTORS.factors].reverse() });
    expect(correct(turned, { reading_mW: 50, wavelength_nm: 600 })).toEqual(at(600));
  });

  test('a neighbour that is inconclusive makes what lies between inconclusive', () => {
    const [green, red] = FACTORS.factors;
    const factors = only({ factors: [green!, { ...red!, verdict: 'inconclusive' }] });
    expect(codes(correct(factors, { reading_mW: 50, wavelength_nm: 600 }))).toContain(
      'factor-inconclusive',
    );
  });
});

describe('refusals', () => {
  test.each([
    ['a reading of zero', { reading_mW: 0, wavelength_nm: 520 }, 'reading-not-positive'],
    ['a reading below zero', { reading_mW: -3, wavelength_nm: 520 }, 'reading-not-positive'],
    ['no reading', { reading_mW: Number.NaN, wavelength_nm: 520 }, 'reading-not-positive'],
    ['no wavelength', { reading_mW: 9, wavelength_nm: Number.NaN }, 'wavelength-out-of-range'],
    ['a shorter wavelength', { reading_mW: 9, wavelength_nm: 517 }, 'wavelength-out-of-range'],
    ['a longer wavelength', { reading_mW: 9, wavelength_nm: 653 }, 'wavelength-out-of-range'],
    ['above the rating', { reading_mW: 501, wavelength_nm: 520 }, 'power-out-of-range'],
  ])('%s', (_, reading, code) => {
    expect(errorOf(() => correct(FACTORS, reading)).code).toBe(code);
  });

  test('factors without a wavelength', () => {
    const empty = only({ factors: [], wavelength_range_nm: null });
    const error = errorOf(() => correct(empty, { reading_mW: 9, wavelength_nm: 520 }));
    expect(error.code).toBe('factors-invalid');
  });

  test('what was found and what would be right stand in the message', () => {
    const { message } = errorOf(() => correct(FACTORS, { reading_mW: 9, wavelength_nm: 808 }));
    expect(message).toContain('808 nm');
    expect(message).toContain('from 520 to 650 nm');
  });
});

describe('cautions', () => {
  test('a power outside the measured range', () => {
    expect(codes(correct(FACTORS, { reading_mW: 61, wavelength_nm: 520 }))).toEqual([
      'power-outside-range',
    ]);
    expect(codes(correct(FACTORS, { reading_mW: 60, wavelength_nm: 520 }))).toEqual([]);
    expect(codes(correct(FACTORS, { reading_mW: 19, wavelength_nm: 520 }))).toEqual([
      'power-outside-range',
    ]);
    // In between, only powers that both neighbours share: 30 to 60 mW
    expect(codes(correct(FACTORS, { reading_mW: 25, wavelength_nm: 600 }))).toContain(
      'power-outside-range',
    );
  });

  test('a reference without uncertainty, a display without a stated step, an inconclusive factor', () => {
    const factors = only({
      reference: { name: 'unknown', uncertainty_stated: false },
      candidate: { name: 'drawer meter', resolution_mW: null, rated_max_mW: null },
      factors: [{ ...ENTRY, verdict: 'inconclusive' }],
    });
    const found = correct(factors, { reading_mW: 30, wavelength_nm: 520 });
    expect(codes(found).sort()).toEqual([
      'factor-inconclusive',
      'relative-to-reference',
      'resolution-not-stated',
    ]);
  });
});
