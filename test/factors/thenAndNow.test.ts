import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ThenAndNowInput } from '../../src/factors/thenAndNow.js';
import { thenAndNow } from '../../src/factors/thenAndNow.js';

const dated = (factor: number, relative_standard_uncertainty: number, dof = 1e6) => ({
  factor,
  relative_standard_uncertainty,
  dof,
});

const compare = (more: Partial<ThenAndNowInput>) =>
  thenAndNow({
    earlier: dated(1.2, 0.01),
    now: dated(1.2, 0.01),
    sameReference: false,
    referenceRelativeUncertainty: null,
    tolerance: 0.05,
    confidence: 0.95,
    ...more,
  });

describe('the change of a factor', () => {
  // Normal quantile 1.96 (standard table): u = √(3² + 4²) % = 5 %, so ± 9.8 % on the log scale.
  it('carries both uncertainties when the reference is another', () => {
    const result = compare({ earlier: dated(1, 0.03), now: dated(1, 0.04) });
    expect(result.relativeStandardUncertainty).toBeCloseTo(0.05, 12);
    expect(Math.log(1 + result.high)).toBeCloseTo(0.098, 4);
    expect(result.verdict).toBe('not-shown');
  });

  it('leaves the reference out of both when it is the same', () => {
    // 4 % of 5 % and of 13 % belong to the reference: 5² − 4² = 9 and 13² − 4² = 153 remain (%²).
    const result = compare({
      earlier: dated(1, 0.05),
      now: dated(1, 0.13),
      sameReference: true,
      referenceRelativeUncertainty: 0.04,
    });
    expect(result.relativeStandardUncertainty).toBeCloseTo(Math.sqrt(0.0009 + 0.0153), 12);
    expect(result.commonLeftOut).toBe(true);
    expect(result.why).toMatch(/drift of the reference itself would look the same/);
  });

  // JCGM 100:2008, G.4.1: equal variances with 5 and 5 degrees of freedom combine to 10; table G.2
  // gives t = 2.23 for 10.
  it('combines degrees of freedom by Welch and Satterthwaite', () => {
    const result = compare({ earlier: dated(1, 0.01, 5), now: dated(1, 0.01, 5) });
    expect(result.dof).toBeCloseTo(10, 9);
    const t = Math.log(1 + result.high) / result.relativeStandardUncertainty;
    expect(Number(t.toFixed(2))).toBe(2.23);
  });

  it('gives the same degrees of freedom back when the reference had none of the uncertainty', () => {
    const plain = compare({ earlier: dated(1, 0.01, 7), now: dated(1, 0.02, 9) });
    const same = compare({
      earlier: dated(1, Math.hypot(0.01, 0.03), 7 * (10 / 1) ** 2),
      now: dated(1, Math.hypot(0.02, 0.03), 9 * (13 / 4) ** 2),
      sameReference: true,
      referenceRelativeUncertainty: 0.03,
    });
    expect(same.dof).toBeCloseTo(plain.dof, 6);
    expect(same.high).toBeCloseTo(plain.high, 9);
  });

  it('is told in three ways', () => {
    expect(compare({ now: dated(1.206, 0.01) }).verdict).toBe('within');
    // ± 0.28 % about − 2 %, 0.1 % and + 2 %
    const small = [0.98, 1.001, 1.02].map((by) =>
      compare({ earlier: dated(1.2, 0.001), now: dated(1.2 * by, 0.001) }),
    );
    expect(small.map(({ why }) => why.includes('though not zero'))).toEqual([true, false, true]);
    expect(compare({ now: dated(1.4, 0.01) }).verdict).toBe('moved');
    expect(compare({ now: dated(1.23, 0.03) }).verdict).toBe('not-shown');
  });

  it('reverses when then and now change places', () => {
    const factor = fc.double({ min: 0.5, max: 2, noNaN: true });
    const u = fc.double({ min: 0.001, max: 0.1, noNaN: true });
    fc.assert(
      fc.property(factor, factor, u, u, (a, b, ua, ub) => {
        const there = compare({ earlier: dated(a, ua), now: dated(b, ub) });
        const back = compare({ earlier: dated(b, ub), now: dated(a, ua) });
        expect((1 + there.change) * (1 + back.change)).toBeCloseTo(1, 9);
        expect((1 + there.low) * (1 + back.high)).toBeCloseTo(1, 9);
        expect(there.low).toBeLessThanOrEqual(there.change);
        expect(there.high).toBeGreaterThanOrEqual(there.change);
      }),
      { seed: 20 },
    );
  });

  it('holds when the reference was all there was', () => {
    const result = compare({
      earlier: dated(1, 0.01),
      now: dated(1.02, 0.01),
      sameReference: true,
      referenceRelativeUncertainty: 0.01,
    });
    expect(result.low).toBeCloseTo(0.02, 9);
    expect(result.high).toBeCloseTo(0.02, 9);
  });

  it('refuses a reference less certain than the factors it is part of', () => {
    expect(() => compare({ sameReference: true, referenceRelativeUncertainty: 0.02 })).toThrow(
      /cannot exceed/,
    );
    expect(() => compare({ now: dated(0, 0.01) })).toThrow(/factor/);
    for (const wrong of [0, 1, Number.NaN]) {
      expect(() => compare({ tolerance: wrong })).toThrow(/tolerance/);
      expect(() => compare({ confidence: wrong })).toThrow(/confidence/);
    }
  });
});
