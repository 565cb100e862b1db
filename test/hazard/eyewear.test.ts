import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { opticalDensityNeeded, VISIBLE_MPE_W_M2 } from '../../src/hazard/eyewear.js';

const at = (upper_mW: number, wavelength_nm = 532) =>
  opticalDensityNeeded({ upper_mW, wavelength_nm, source: 'invented laser' });

describe('published limits', () => {
  // Directive 2006/25/EC as in the French Labour Code annex: H = 18·t^0.75 J/m²; at 0.25 s printed
  // as 6.4 J/m², 25 W/m², and 0.98 mW through 7 mm.
  it('the exposure limit of a glance is 25 W/m², or 0.98 mW through the pupil', () => {
    expect(Number(VISIBLE_MPE_W_M2.toPrecision(2))).toBe(25);
    expect(Number((VISIBLE_MPE_W_M2 * 0.25).toPrecision(2))).toBe(6.4);
    expect(Number((1000 * VISIBLE_MPE_W_M2 * Math.PI * 0.0035 ** 2).toPrecision(2))).toBe(0.98);
  });

  // log10(E0/25.46) with E0 = P/38.5 mm², worked by hand: 0.708, 2.009, 3.009, 3.486; rounded up.
  it.each([
    [5, 0.8],
    [100, 2.1],
    [1000, 3.1],
    [3000, 3.5],
  ])('%d mW need an optical density of %d', (mW, density) => {
    expect(at(mW).optical_density).toBe(density);
  });
});

describe('properties', () => {
  it('the density always brings the beam below the limit, and never falls with power', () => {
    const power = fc.double({ min: 0.001, max: 1e5, noNaN: true });
    fc.assert(
      fc.property(power, power, (a, b) => {
        const density = at(a).optical_density as number;
        const irradiance = (a / 1000 / (Math.PI * 0.0035 ** 2)) * 10 ** -density;
        expect(irradiance).toBeLessThanOrEqual(VISIBLE_MPE_W_M2 * (1 + 1e-8));
        if (b > a) expect(at(b).optical_density as number).toBeGreaterThanOrEqual(density);
      }),
      { seed: 13 },
    );
  });
});

describe('awkward sources', () => {
  it.each([355, 399, 701, 808, 1064])('refuses %d nm, where nobody blinks', (nm) => {
    expect(at(100, nm).optical_density).toBeNull();
    expect(at(100, nm).why).toMatch(/laser safety officer/);
  });

  it('always comes with cautions, and with one more for a doubled green', () => {
    expect(at(0.1).optical_density).toBe(0);
    expect(at(0.1).cautions.join(' ')).toMatch(/Never look into the beam/);
    expect(at(100, 532).cautions).toHaveLength(at(100, 520).cautions.length + 1);
  });

  it('refuses no power', () => {
    expect(() => at(0)).toThrow(/upper_mW must be/);
    expect(() => at(5, Number.NaN)).toThrow(/wavelength/);
  });
});
