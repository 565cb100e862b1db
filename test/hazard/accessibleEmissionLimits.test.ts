import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { accessibleEmissionLimits } from '../../src/hazard/accessibleEmissionLimits.js';
import { uniform } from '../uniform.js';

const limit = (nm: number, name: string, tolerance = 0) =>
  accessibleEmissionLimits(nm, { tolerance_nm: tolerance }).limits.find((one) => one.class === name)
    ?.limit_mW ?? null;

describe('published limits', () => {
  // IEC 60825-1:2014, tables 3, 6, 8 by way of a public transcription of BS EN 60825-1:2014;
  // class 2 from a secondary text. Evaluated by hand at common wavelengths, two or three digits.
  it.each([
    [405, 0.039],
    [445, 0.039],
    [488, 0.22],
    [520, 0.39],
    [532, 0.39],
    [660, 0.39],
    [808, 0.64],
    [980, 1.4],
    [1064, 1.95],
  ])('class 1 at %d nm ends at %d mW', (nm, expected) => {
    const digits = String(expected).replace('0.', '').replace('.', '').replace(/^0+/, '').length;
    expect(Number(limit(nm, '1')?.toPrecision(digits))).toBe(expected);
  });

  // C7 = 10^(0.018·30) = 3.467 at 1180 nm, so 0.39·5·3.467 = 6.76.
  it('class 1 at 1180 nm ends at 6.8 mW', () => {
    expect(Number(limit(1180, '1')?.toPrecision(2))).toBe(6.8);
  });

  it.each([
    [405, 5],
    [532, 5],
    [808, 3.3],
    [980, 7.3],
    [1064, 10],
    [350, 0.04],
  ])('class 3R at %d nm ends at %d mW', (nm, expected) => {
    expect(Number(limit(nm, '3R')?.toPrecision(2))).toBe(expected);
  });

  // The same tables: class 2 exists from 400 to 700 nm only and ends at 1 mW; class 3B at 0.5 W.
  it('class 2 is visible light of up to 1 mW, and class 3B ends at 500 mW', () => {
    expect([400, 532, 699].map((nm) => limit(nm, '2'))).toEqual([1, 1, 1]);
    expect([399, 700, 1064].map((nm) => limit(nm, '2'))).toEqual([null, null, null]);
    expect([350, 405, 532, 808, 1064, 1550, 10600].map((nm) => limit(nm, '3B'))).toEqual(
      Array(7).fill(500),
    );
  });

  // NIST survey of pointers 2013 (J. Laser Appl. 25:032007): infrared limit printed as "< 2 mW" at 1064 nm.
  it('class 1 at 1064 nm is just under the 2 mW of the pointer survey', () => {
    expect(limit(1064, '1')).toBeGreaterThan(1.9);
    expect(limit(1064, '1')).toBeLessThan(2);
  });

  // IEC 60825-1:2014 table 8: 5e-5·C2 W with C2 = 10^(0.2 (λ − 295)): at 305 nm C2 = 100.
  it('from 302.5 to 315 nm only class 3B is limited in power', () => {
    const at305 = accessibleEmissionLimits(305);
    expect(at305.covered).toBe(false);
    expect(at305.limits.map((one) => one.class)).toEqual(['3B']);
    expect(at305.limits[0].limit_mW).toBeCloseTo(5, 9);
    expect(at305.why).toMatch(/energy/);
  });
});

describe('properties', () => {
  it('limits rise from class to class, and none exceeds 500 mW', () => {
    fc.assert(
      fc.property(fc.double({ min: 180, max: 1e6, noNaN: true }), (nm) => {
        const values = accessibleEmissionLimits(nm).limits.map((one) => one.limit_mW);
        expect(values).toEqual([...values].sort((a, b) => a - b));
        expect(Math.max(...values, 0)).toBeLessThanOrEqual(500);
      }),
      { seed: 1 },
    );
  });

  it('a wider wavelength tolerance never raises a limit or adds a class', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 320, max: 3900, noNaN: true }),
        uniform(0, 20),
        uniform(-1, 1),
        (nm, tolerance, inside) => {
          for (const one of accessibleEmissionLimits(nm, { tolerance_nm: tolerance }).limits) {
            const there = limit(nm + inside * tolerance, one.class);
            if (there !== null) expect(one.limit_mW).toBeLessThanOrEqual(there * (1 + 1e-12));
          }
        },
      ),
      { seed: 2 },
    );
  });

  it('at 1310 nm the limit stays far below what the table alone would allow', () => {
    // The table's own C7 = 8 + 10^(0.04·60) = 259 would put class 1 at 505 mW, above class 3B.
    expect(limit(1310, '1')).toBeLessThan(16);
  });
});

describe('awkward wavelengths', () => {
  it('a nominal 700 nm is judged as visible and as infrared, whichever is stricter', () => {
    expect(limit(700, '2', 5)).toBeNull();
    expect(limit(700, '1', 5)).toBeCloseTo(0.39, 9);
    expect(limit(700, '3R', 5)).toBeCloseTo(2, 9);
  });

  it('beyond 1 mm and below 180 nm there is nothing to judge by', () => {
    for (const nm of [100, 2e6]) {
      expect(accessibleEmissionLimits(nm)).toMatchObject({
        limits: [],
        covered: false,
        in_scope: false,
      });
    }
    expect(accessibleEmissionLimits(10600)).toMatchObject({ covered: false, in_scope: true });
  });

  it('a tolerance that reaches beyond the range of the standard does not leave it', () => {
    for (const nm of [180, 182, 1e6]) {
      const limits = accessibleEmissionLimits(nm, { tolerance_nm: 5 });
      expect(limits).toMatchObject({ in_scope: true, covered: false });
    }
  });

  it.each([0, -532, Number.NaN, Number.POSITIVE_INFINITY])('refuses a wavelength of %d', (nm) => {
    expect(() => accessibleEmissionLimits(nm)).toThrow(/wavelength/);
  });

  it.each([
    [1190, false],
    [1200, false],
    [1210, true],
    [1240, true],
    [1310, true],
    [1399, true],
    [1450, false],
  ])('says at %d nm whether it is stricter than the table: %s', (nm, stricter) => {
    const found = accessibleEmissionLimits(nm);
    expect(found.why.includes('held lower on the safe side from 1200 nm on')).toBe(stricter);
    // The table's C7 as in docs/methods/hazard.md: 8 + 10^(0.04(λ − 1250)) from 1200 to 1400 nm
    const table = 2.0 * 5 * (8 + 10 ** (0.04 * (nm - 1250)));
    const held = found.limits.find((limit) => limit.class === '3R')?.limit_mW ?? 0;
    if (stricter) expect(held).toBeLessThan(table);
  });

  it('refuses a negative tolerance', () => {
    expect(() => accessibleEmissionLimits(532, { tolerance_nm: -1 })).toThrow(/tolerance/);
  });
});
