import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { correct } from '../../src/factors/correct.js';
import { seededRandom } from '../../src/statistics/random.js';
import { type Factors, KNOWN_EXACTLY } from '../../src/vocabulary.js';
import { SAME_WAVELENGTH_NM } from '../../src/wavelengths/atWavelength.js';
import { atOneLevel, levelOf } from '../fullRecords.js';
import { near } from '../near.js';
import { errorOf } from '../record/support.js';
import { ENTRY, FACTORS } from './support.js';

const codes = (found: { readonly cautions: readonly { readonly code: string }[] }) =>
  found.cautions.map((one) => one.code);
const only = (change: Partial<Factors>): Factors => ({ ...FACTORS, ...change });

/** One wavelength, so that no neighbour's colour counts. */
const ALONE = only({ factors: [ENTRY] });
/** The standard uncertainty on the log scale. */
const u = (found: { readonly U: number; readonly k: number; readonly value: number }) =>
  Math.log1p(found.U / found.value) / found.k;

describe('the arithmetic, done by hand', () => {
  // 46 mW × 1.1 = 50.6 mW. Parts: 1.2 % (9 dof), 0.5 % (16 dof), and twice, for display and zero,
  // 1 mW/√12/46 mW = 0.627555 % (exact); u = √(1.44 + 0.25 + 2·0.393826)·1e-2 = 1.574056e-2
  // (JCGM 100:2008, 5.1.6); ν = 1.574056⁴ / (1.2⁴/9 + 0.5⁴/16) = 6.138759 / 0.234306 = 26.20 (G.4.1)
  const found = correct(ALONE, { reading_mW: 46, wavelength_nm: 520 });

  test('value, u, degrees of freedom', () => {
    near(found.value, 50.6, 1e-12);
    expect(found.factor).toBe(1.1);
    near(found.dof, 26.2, 5e-3);
    near(u(found), 1.574056e-2, 1e-8);
    expect(found.cautions).toEqual([]);
    near(
      Math.hypot(...found.parts.map((one) => one.relative_standard_uncertainty)),
      u(found),
      1e-12,
    );
  });

  test('the interval holds 95 of 100 draws of its parts', () => {
    // Two normal parts, two rectangles of half a step; 4·10⁵ draws leave 0.07 % of their count to
    // chance (two standard deviations).
    const known = only({
      factors: [atOneLevel({ ...ENTRY, dof: KNOWN_EXACTLY, reading_dof: KNOWN_EXACTLY })],
    });
    const { high, value } = correct(known, { reading_mW: 46, wavelength_nm: 520 });
    const random = seededRandom(17);
    const step = () => (random.uniform() - 0.5) / 46;
    const n = 400_000;
    let held = 0;
    for (let i = 0; i < n; i++) {
      const off = 0.012 * random.normal() + 0.005 * random.normal() + step() + step();
      if (Math.abs(off) <= Math.log(high / value)) held += 1;
    }
    near(held / n, 0.95, 0.0015);
  });

  test('6 to 12 steps of the display: reading and zero are both rounded, and 95 of 100 are held', () => {
    const exact = {
      dof: KNOWN_EXACTLY,
      reading_dof: KNOWN_EXACTLY,
      candidate_range_mW: [6, 12] as const,
    };
    const known = only({ factors: [atOneLevel({ ...ENTRY, ...exact })] });
    const random = seededRandom(18);
    const n = 4000;
    let held = 0;
    for (let i = 0; i < n; i++) {
      const power = 1.1 * (6 + 6 * random.uniform());
      const zero = 10 * random.uniform();
      const seen = (power / 1.1) * Math.exp(0.012 * random.normal() + 0.005 * random.normal());
      const shown = { reading_mW: Math.round(seen + zero), zero_mW: Math.round(zero) };
      const { low, high } = correct(known, { ...shown, wavelength_nm: 520 });
      if (low <= power && power <= high) held += 1;
    }
    // Three binomial standard errors: 1 %. Without the zero's rounding it is 89 %.
    expect(held / n).toBeGreaterThan(0.94);
    expect(held / n).toBeLessThan(0.98);
  });

  test('the interval is symmetric on the log scale, and value ± U holds it', () => {
    near(found.low * found.high, 50.6 ** 2, 1e-9);
    near(found.value + found.U, found.high, 1e-9);
    expect(found.value - found.U).toBeLessThanOrEqual(found.low);
  });

  test('it is never narrower than that of the factor itself', () => {
    const sure = only({
      candidate: { ...FACTORS.candidate, resolution_mW: 1e-6 },
      factors: [atOneLevel({ ...ENTRY, reading_relative_sd: 0, coverage_factor: 3 })],
    });
    const { high, value } = correct(sure, { reading_mW: 46, wavelength_nm: 520 });
    expect(Math.log(high / value)).toBeGreaterThanOrEqual(3 * 0.012 - 1e-9);
  });
});

describe('several readings of one power', () => {
  const at = (reading_mW: number | number[] | number[][]) =>
    correct(only({ factors: [{ ...ENTRY, next_series_relative_sd: 0.02 }] }), {
      reading_mW,
      wavelength_nm: 520,
    });
  const part = (found: ReturnType<typeof at>, name: string) =>
    found.parts.find((one) => one.name === name)?.relative_standard_uncertainty as number;

  test('a list is one seating: the mean counts, scatter averages out, placement and display do not', () => {
    const one = at(46);
    const four = at([45.9, 46, 46, 46.1]);
    near(four.value, one.value, 1e-9);
    near(part(four, 'scatter of the reading'), part(one, 'scatter of the reading') / 2, 1e-12);
    for (const name of ['factor K', 'placement', 'display step', 'zero']) {
      near(part(four, name), part(one, name), 1e-12);
    }
  });

  test('a list of lists is one for each seating: the placement averages out too', () => {
    const four = at([[46], [45.9], [46.1], [46]]);
    near(part(four, 'placement'), 0.01, 1e-12);
    near(part(four, 'factor K'), 0.012, 1e-12);
    expect(four.U).toBeLessThan(at(46).U);
  });

  test('each seating counts once, and scatter beyond what the factors know counts itself', () => {
    near(at([[40, 40, 40, 40], [50]]).value, 1.1 * 45, 1e-9);
    // 40 and 52 mW: s = 8.485 mW of 46 mW
    near(part(at([40, 52]), 'scatter of the reading'), 8.48528 / 46 / Math.SQRT2, 1e-6);
  });

  test('a zero is subtracted from each', () => {
    const zeroed = correct(ALONE, { reading_mW: [46.5, 47.5], wavelength_nm: 520, zero_mW: 1 });
    near(zeroed.value, 1.1 * 46, 1e-9);
  });
});

describe('the power', () => {
  const level = (factor: number, low: number, high: number) => ({
    ...levelOf({ ...ENTRY, candidate_range_mW: [low, high] }),
    factor,
    low: factor * 0.97,
    high: factor * 1.03,
  });
  const bent = only({
    candidate: { ...FACTORS.candidate, rated_max_mW: null },
    factors: [{ ...ENTRY, levels: [level(1.1, 20, 20), level(1.2, 200, 200)] }],
  });
  const at = (reading_mW: number) => correct(bent, { reading_mW, wavelength_nm: 520 });

  test('each level has its own factor; in between K runs straight in the logarithm of the power', () => {
    near(at(20).factor, 1.1, 1e-12);
    near(at(200).factor, 1.2, 1e-12);
    near(at(Math.sqrt(20 * 200)).factor, Math.sqrt(1.1 * 1.2), 1e-9);
    expect(at(63).parts.map((one) => one.name)).toContain('power between the levels');
    expect(at(63).U / at(63).value).toBeGreaterThan(at(200).U / at(200).value);
  });

  test('half way the placements of both levels are averaged, where the file tells them apart', () => {
    const placement = (correlation?: number) => {
      const [a, b] = [20, 200].map((mW) => ({
        ...level(1.1, mW, mW),
        relative_standard_uncertainty: 0.015,
        placement_relative_standard_uncertainty: 0.012,
      }));
      const first =
        correlation === undefined ? a : { ...a, placement_correlation_with_next: correlation };
      const factors = {
        ...bent,
        factors: [{ ...ENTRY, next_series_relative_sd: 0, levels: [first, b] }],
      };
      const found = correct(factors as typeof bent, { reading_mW: 63.2456, wavelength_nm: 520 });
      const of = (name: string) =>
        found.parts.find((one) => one.name === name)?.relative_standard_uncertainty;
      // What both levels share stays what it is.
      near(of('factor K'), 0.009, 1e-9);
      return of('placement');
    };
    near(placement(0), 0.012 / Math.SQRT2, 1e-9);
    near(placement(0.5), 0.012 * Math.sqrt(0.75), 1e-9);
    near(placement(1), 0.012, 1e-9);
    near(placement(), 0.012, 1e-9);
  });

  test('down to half and up to twice with a part for what nobody looked for, and no further', () => {
    expect(at(390).parts.map((one) => one.name)).toContain('power outside the levels');
    expect(codes(at(390))).toContain('power-outside-range');
    expect(at(390).U / at(390).value).toBeGreaterThan(at(210).U / at(210).value);
    expect(errorOf(() => at(401)).code).toBe('power-out-of-range');
    expect(errorOf(() => at(9.9)).code).toBe('power-out-of-range');
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
    // u² = 1.2² + 1.0² + 0.5² + 2·0.627555² = 3.477652, in (1e-2)²;
    // ν = 3.477652² / (1.2⁴/9 + 1/8 + 0.5⁴/16) = 12.094063 / 0.359306 = 33.66
    const found = correct(spread(0.01), { reading_mW: 46, wavelength_nm: 520 });
    near(u(found), Math.sqrt(3.477652) * 1e-2, 1e-8);
    near(found.dof, 33.66, 5e-3);
    expect(found.cautions).toEqual([]);
  });

  test('what placements left in K and the new placement are one part, for one s stands behind both', () => {
    const factors = only({
      factors: [
        atOneLevel({
          ...ENTRY,
          relative_standard_uncertainty: Math.hypot(0.012, 0.006),
          placement_u: 0.006,
          next_series_relative_sd: 0.008,
          next_series_dof: 2,
        }),
      ],
    });
    const { parts, cautions } = correct(factors, { reading_mW: 46, wavelength_nm: 520 });
    const [factor, placement] = parts;
    near(factor?.relative_standard_uncertainty, 0.012, 1e-12);
    near(placement?.relative_standard_uncertainty, 0.01, 1e-12);
    expect(placement?.dof).toBe(2);
    expect(cautions.map((one) => one.code)).toContain('placement-little-known');
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

  test('the larger uncertainty of both neighbours counts, on whichever side it is', () => {
    const u = (below: number, above: number) => {
      const [first, second] = FACTORS.factors.map((entry, i) => {
        const own = { relative_standard_uncertainty: [below, above][i]! };
        return { ...entry, ...own, levels: entry.levels.map((level) => ({ ...level, ...own })) };
      });
      const reading = { reading_mW: 50, wavelength_nm: 590 };
      const { parts } = correct({ ...FACTORS, factors: [first!, second!] }, reading);
      return parts.find(({ name }) => name === 'factor K')?.relative_standard_uncertainty;
    };
    near(u(0.02, 0.015), 0.02, 1e-12);
    near(u(0.015, 0.02), 0.02, 1e-12);
  });

  test('their distance enters as a rectangle: half of it over √3', () => {
    // JCGM 100:2008, 4.3.7; with the larger standard uncertainty of both neighbours
    const { parts } = at(590);
    const expected = [
      ['factor K', 0.015],
      ['wavelength of the source', Math.log(1.2 / 1.1) / 2 / Math.sqrt(3)],
      ['scatter of the reading', 0.005],
      ['display step', 1 / Math.sqrt(12) / 50],
    ] as const;
    for (const [name, value] of expected) {
      near(parts.find((one) => one.name === name)?.relative_standard_uncertainty, value, 1e-12);
    }
  });

  test('at a measured colour the slope to its neighbours counts for another source: 5 nm of it', () => {
    const { parts } = correct(FACTORS, { reading_mW: 46, wavelength_nm: 520 });
    near(
      parts.find((one) => one.name === 'wavelength of the source')?.relative_standard_uncertainty,
      ((Math.log(1.2 / 1.1) / 130) * 5) / Math.sqrt(3),
      1e-12,
    );
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
          const entry = (wavelength_nm: number, factor: number) =>
            atOneLevel({
              ...ENTRY,
              wavelength_nm,
              factor,
              low: factor * Math.exp(-2 * u),
              high: factor * Math.exp(2 * u),
              relative_standard_uncertainty: u,
              dof,
              coverage_factor: 2,
            });
          const factors = only({ confidence, factors: [entry(520, one), entry(650, two)] });
          const found = correct(factors, { reading_mW: 50, wavelength_nm: nm });
          // The degrees of freedom come of the tail of t and k of its quantile, which agree to 3e-8.
          const dust = 1e-7;
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
    ['no reading', { reading_mW: Number.NaN, wavelength_nm: 520 }, 'argument-wrong'],
    ['an empty list', { reading_mW: [], wavelength_nm: 520 }, 'argument-wrong'],
    [
      'lists beside numbers',
      { reading_mW: [[1], 2] as never, wavelength_nm: 520 },
      'argument-wrong',
    ],
    [
      'a time before switch-on',
      { reading_mW: 9, wavelength_nm: 520, read_at_s: -1 },
      'argument-wrong',
    ],
    ['no wavelength', { reading_mW: 9, wavelength_nm: Number.NaN }, 'wavelength-out-of-range'],
    ['a shorter wavelength', { reading_mW: 9, wavelength_nm: 517 }, 'wavelength-out-of-range'],
    ['a longer wavelength', { reading_mW: 9, wavelength_nm: 653 }, 'wavelength-out-of-range'],
    ['above the rating', { reading_mW: 501, wavelength_nm: 520 }, 'power-out-of-range'],
  ])('%s', (_, reading, code) => {
    expect(errorOf(() => correct(FACTORS, reading)).code).toBe(code);
  });

  test('a text, or nothing, is said to be that', () => {
    const wrong = (given: unknown) =>
      errorOf(() => correct(FACTORS, given as { reading_mW: number; wavelength_nm: number }))
        .message;
    expect(wrong({ reading_mW: '42', wavelength_nm: 520 })).toContain("the text '42'");
    expect(wrong({ reading_mW: ' 4,9', wavelength_nm: 520 })).toMatch(/no quotation marks: 4\.9\./);
    expect(wrong({ reading_mW: 'a4,9', wavelength_nm: 520 })).not.toContain('quotation marks');
    expect(wrong({})).toMatch(/wavelength must be a number/);
    expect(wrong('4,9')).toMatch(/is a record/);
    expect(errorOf(() => correct({} as Factors, { reading_mW: 9, wavelength_nm: 520 })).code).toBe(
      'argument-wrong',
    );
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
    // Half of 20 mW, twice 60
    expect(
      errorOf(() => correct(FACTORS, { reading_mW: 9, wavelength_nm: 520 })).message,
    ).toContain('10 to 120 mW (measured: 20 to 60 mW)');
  });
});

describe('cautions', () => {
  test('a power outside the measured range', () => {
    expect(codes(correct(FACTORS, { reading_mW: 61, wavelength_nm: 520 }))).toEqual([
      'power-outside-range',
    ]);
    expect(codes(correct(FACTORS, { reading_mW: 60, wavelength_nm: 520 }))).toEqual([]);
    expect(codes(correct(FACTORS, { reading_mW: 19, wavelength_nm: 520 }))).toContain(
      'power-outside-range',
    );
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
