import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/statistics/random.js';
import type { InfraredLeakInput } from '../../src/wavelengths/infraredLeak.js';
import {
  infraredCaution,
  infraredLeak,
  isDoubledLine,
} from '../../src/wavelengths/infraredLeak.js';
import { uniform } from '../uniform.js';

const est = (value: number, standardUncertainty = 0) => ({ value, standardUncertainty });

const leak = (more: Partial<InfraredLeakInput> = {}) =>
  infraredLeak({
    unfiltered_mW: est(30),
    filtered_mW: est(8),
    wantedTransmission: est(0.8),
    infraredTransmission: est(0),
    ...more,
  });

describe('separating the infrared', () => {
  // NIST TN 1668 (as told in the NIST release): one "10 mW" green source emitted nearly 20 mW of
  // infrared. With 10 mW green, 20 mW infrared and a filter of 0.8 and 0: 30 mW, then 8 mW.
  it('finds 10 mW of green and 20 mW of infrared in a source like that of NIST TN 1668', () => {
    const { wanted_mW, infrared_mW, infraredFraction } = leak();
    expect(wanted_mW?.value).toBeCloseTo(10, 12);
    expect(infrared_mW?.value).toBeCloseTo(20, 12);
    expect(infraredFraction?.value).toBeCloseTo(2 / 3, 12);
  });

  it('gives back any two powers that were put in, whatever the filter', () => {
    const transmission = uniform(0, 1);
    const power = fc.double({ min: 0.01, max: 1000, noNaN: true });
    fc.assert(
      fc.property(power, power, transmission, transmission, (g, i, tg, ti) => {
        fc.pre(Math.abs(tg - ti) > 0.11);
        const found = leak({
          unfiltered_mW: est(g + i),
          filtered_mW: est(tg * g + ti * i),
          wantedTransmission: est(tg),
          infraredTransmission: est(ti),
        });
        expect(Math.abs((found.wanted_mW?.value ?? 0) - g)).toBeLessThan(1e-9 * (g + i));
        expect(Math.abs((found.infrared_mW?.value ?? 0) - i)).toBeLessThan(1e-9 * (g + i));
      }),
      { seed: 11 },
    );
  });

  it('has the uncertainty that repeating it with errors shows', () => {
    const input: InfraredLeakInput = {
      unfiltered_mW: est(30, 0.6),
      filtered_mW: est(19, 0.1),
      wantedTransmission: est(0.9, 0.01),
      infraredTransmission: est(0.4, 0.01),
      commonRelativeUncertainty: 0.1,
    };
    const random = seededRandom(12);
    const draw = ({ value, standardUncertainty }: { value: number; standardUncertainty: number }) =>
      value + standardUncertainty * random.normal();
    const trials = Array.from({ length: 20000 }, () => {
      const scale = 1 + 0.1 * random.normal();
      const r0 = draw(input.unfiltered_mW) * scale;
      const r1 = draw(input.filtered_mW) * scale;
      const tg = draw(input.wantedTransmission);
      const ti = draw(input.infraredTransmission);
      const g = (r1 - ti * r0) / (tg - ti);
      return [g, r0 - g, (r0 - g) / r0];
    });
    const sd = (k: number) => {
      const values = trials.map((trial) => trial[k]);
      const centre = values.reduce((a, b) => a + b) / values.length;
      return Math.sqrt(values.reduce((sum, v) => sum + (v - centre) ** 2, 0) / (values.length - 1));
    };
    const found = infraredLeak(input);
    // 20 000 trials give a standard deviation to 0.5 %; 3 % leave room for the curvature.
    [found.wanted_mW, found.infrared_mW, found.infraredFraction].forEach((part, k) => {
      expect(Math.abs((part?.standardUncertainty ?? 0) / sd(k) - 1)).toBeLessThan(0.03);
    });
  });

  // r₀ = 30, r₁ = 19, τ = 0.9 and 0.4: G = (19 − 12)/0.5 = 14, I = 16. By hand from G = (r₁ − τi·r₀)/(τg − τi):
  // ∂G/∂r₀ = −0.8, ∂G/∂r₁ = 2, ∂G/∂τg = −28, ∂G/∂τi = −32; I = r₀ − G; I/r₀ by the quotient rule.
  it.each([
    ['unfiltered_mW', est(30, 0.6), 0.48, 1.08, (0.8 + 14 / 30) * 0.02],
    ['filtered_mW', est(19, 0.1), 0.2, 0.2, 0.2 / 30],
    ['wantedTransmission', est(0.9, 0.01), 0.28, 0.28, 0.28 / 30],
    ['infraredTransmission', est(0.4, 0.01), 0.32, 0.32, 0.32 / 30],
    // What both readings share scales both parts and leaves the fraction.
    ['commonRelativeUncertainty', 0.1, 1.4, 1.6, 0],
    ['none', 0, 0, 0, 0],
  ])('takes from the uncertainty of %s what the derivatives say', (name, value, uG, uI, uF) => {
    const found = leak({
      filtered_mW: est(19),
      wantedTransmission: est(0.9),
      infraredTransmission: est(0.4),
      ...(name === 'none' ? {} : { [name]: value }),
    });
    const close = (one: number) => expect.closeTo(one, 12);
    expect(found).toEqual({
      wanted_mW: { value: close(14), standardUncertainty: close(uG) },
      infrared_mW: { value: close(16), standardUncertainty: close(uI) },
      infraredFraction: { value: close(16 / 30), standardUncertainty: close(uF) },
      why: expect.any(String),
    });
  });

  it.each([
    // Transmissions at least 0.1 apart (binary fractions, so that the edge is exact) …
    [est(0.1), est(0), true],
    [est(0.0999), est(0), false],
    [est(0), est(0.1), true],
    [est(0), est(0.0999), false],
    // … and four standard uncertainties, those of both together: 5 = √(3² + 4²)
    [est(0.5, 0.125), est(0), true],
    [est(0.5, 0.126), est(0), false],
    [est(0), est(0.5, 0.126), false],
    [est(0.5, 0.075), est(0, 0.1), true],
    [est(0.5, 0.076), est(0, 0.1), false],
    [est(1), est(0), true],
    [est(0), est(1), true],
  ])(
    'tells apart what is far enough apart: %o and %o',
    (wantedTransmission, infraredTransmission, told) => {
      expect(leak({ wantedTransmission, infraredTransmission }).wanted_mW !== null).toBe(told);
    },
  );

  it.each([
    // A filter of 1 and 0: G is r₁ with its u of 1, I = 30 − r₁ with the same
    [27.9, 'The infrared is invisible'],
    [28, 'does not exclude it up to 4 mW'],
    [29, 'does not exclude it up to 3 mW'],
    [32, 'does not exclude it up to 0 mW'],
    [32.1, 'is impossible'],
    [-2, 'The infrared is invisible'],
    [-2.1, 'is impossible'],
  ])('behind a filter of 1 and 0, %d ± 1 mW of 30: %s', (filtered, words) => {
    const { why } = leak({ filtered_mW: est(filtered, 1), wantedTransmission: est(1) });
    expect(why).toContain(words);
    expect(why.match(/invisible|not shown|impossible/g)).toHaveLength(1);
  });

  it('refuses a filter that passes both alike, or one that is not known well enough', () => {
    for (const more of [
      { infraredTransmission: est(0.75) },
      { wantedTransmission: est(0.3, 0.05), infraredTransmission: est(0.1, 0.02) },
    ]) {
      const found = leak(more);
      expect(found).toMatchObject({ wanted_mW: null, infrared_mW: null, infraredFraction: null });
      expect(found.why).toMatch(/tell the two apart/);
    }
  });

  it('calls a clearly negative part a mistake', () => {
    expect(leak({ filtered_mW: est(28, 0.1) }).why).toMatch(/impossible/);
  });

  it('does not call infrared absent when it is merely not seen', () => {
    expect(leak({ filtered_mW: est(23.9, 0.4) }).why).toMatch(/does not exclude it up to/);
  });

  it('refuses transmissions beyond 0 to 1, negative uncertainties, and darkness', () => {
    expect(() => leak({ wantedTransmission: est(1.1) })).toThrow(/transmission/);
    expect(() => leak({ infraredTransmission: est(-0.1) })).toThrow(/transmission/);
    expect(() => leak({ unfiltered_mW: est(0) })).toThrow(/unfiltered/);
    expect(() => leak({ filtered_mW: est(8, -1) })).toThrow(/standardUncertainty/);
    expect(() => leak({ commonRelativeUncertainty: -1 })).toThrow(/common/);
  });
});

describe('the caution', () => {
  it('goes to lines that are made by doubling, and not to diodes of similar colour', () => {
    for (const nm of [457, 473, 491, 501, 515, 532, 543, 556, 561, 589, 593.5, 671]) {
      expect([nm, isDoubledLine(nm)]).toEqual([nm, true]);
    }
    expect([520, 525, 505, 450, 650, 1064].map(isDoubledLine)).toEqual(Array(6).fill(false));
    // Within 1 nm of the line, either way
    expect([530.9, 531, 533, 533.1].map(isDoubledLine)).toEqual([false, true, true, false]);
  });

  it('says what a filter found once one has separated the infrared', () => {
    expect(infraredCaution(532, 'green', null)?.code).toBe('infrared-not-separated');
    expect(infraredCaution(532, 'green', 'Little of it.')).toEqual({
      code: 'infrared-measured',
      message: 'green: infrared beside the line was looked for with a filter. Little of it.',
    });
    expect(infraredCaution(520, 'green', null)).toBeNull();
  });
});
