import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  asNewBound,
  compatibilityScore,
  whichMeterIsRight,
} from '../../src/opinions/secondOpinion.js';
import { uniform } from '../uniform.js';

const power = (value_mW: number, standardUncertainty_mW: number | null) => ({
  value_mW,
  standardUncertainty_mW,
});

describe('published comparison', () => {
  // Comparison of two national institutes at kilowatts (Metrologia 61 025006, abstract): 0.49 %
  // apart, expanded uncertainty of the comparison 1.37 % (k = 2). Then E_n = 0.49/1.37 = 0.36.
  it('two national institutes 0.49 % apart agree', () => {
    const u = 1.37 / 2 / Math.SQRT2;
    const score = compatibilityScore({ ours: power(100.49, u), theirs: power(100, u) });
    expect(Number(score.en?.toFixed(2))).toBe(0.36);
    expect(score.verdict).toBe('agrees');
    expect(score.relativeDifference).toBeCloseTo(0.0049, 12);
  });

  // ISO 13528, marks of the zeta score: 2 and 3 (read in NIST's Dataplot manual, "ISO 13528 zeta
  // score").
  it.each([
    [101.9, 'agrees'],
    [102.5, 'questionable'],
    [96.9, 'disagrees'],
  ])('%d mW against 100 ± 1 mW %s', (value, verdict) => {
    const score = compatibilityScore({ ours: power(value, 0.6), theirs: power(100, 0.8) });
    expect(score.verdict).toBe(verdict);
    // 0.6 and 0.8 combine to 1 exactly.
    expect(score.zeta).toBeCloseTo(value - 100, 9);
  });
});

describe('scores', () => {
  it('change sign with the order, and not with the unit', () => {
    const value = fc.double({ min: 1, max: 1000, noNaN: true });
    const u = fc.double({ min: 0.01, max: 10, noNaN: true });
    fc.assert(
      fc.property(value, value, u, u, u, (a, b, ua, ub, scale) => {
        const zeta = (x: number, ux: number, y: number, uy: number) =>
          compatibilityScore({ ours: power(x, ux), theirs: power(y, uy) }).zeta as number;
        expect(zeta(b, ub, a, ua)).toBeCloseTo(-zeta(a, ua, b, ub), 9);
        expect(zeta(a * scale, ua * scale, b * scale, ub * scale)).toBeCloseTo(
          zeta(a, ua, b, ub),
          6,
        );
      }),
      { seed: 16 },
    );
  });

  it('take out what both owe to one reference', () => {
    const input = { ours: power(102, 1), theirs: power(100, 1) };
    expect(compatibilityScore(input).zeta).toBeCloseTo(2 / Math.SQRT2, 12);
    const shared = compatibilityScore({ ...input, commonStandardUncertainty_mW: Math.sqrt(0.5) });
    expect(shared.zeta).toBeCloseTo(2, 12);
  });

  it('are withheld, with the reason, where an uncertainty is missing or nothing is left of it', () => {
    const missing = compatibilityScore({ ours: power(102, 1), theirs: power(100, null) });
    expect(missing).toMatchObject({ zeta: null, en: null, verdict: null });
    expect(missing.why).toMatch(/not stated/);
    const nothing = { ours: power(102, 1), theirs: power(100, 1), commonStandardUncertainty_mW: 1 };
    expect(compatibilityScore(nothing)).toMatchObject({ zeta: null, verdict: null });
  });

  it('count 2 as agreement and 3 as none', () => {
    // 3 and 4 combine to 5: 10 mW apart are ζ = 2, 15 mW are ζ = 3.
    const at = (value: number) =>
      compatibilityScore({ ours: power(value, 3), theirs: power(100, 4) });
    expect([at(110).verdict, at(111).verdict, at(115).verdict]).toEqual([
      'agrees',
      'questionable',
      'disagrees',
    ]);
    expect(at(110).why).toBe(
      'The values are 10 % apart, 2 times the standard uncertainty of the difference: they agree within their uncertainties.',
    );
    expect(at(111).why).toContain('2.2 times');
    expect(at(111).why).toContain('too little to call it wrong');
    expect(at(115).why).toContain('at least one of them is wrong');
    expect(at(85).why).toContain('The values are 15 % apart');
  });

  it('say whose uncertainty is missing', () => {
    const why = (ours: number | null, theirs: number | null) =>
      compatibilityScore({ ours: power(102, ours), theirs: power(100, theirs) }).why;
    expect(why(null, 1)).toContain('the uncertainty of ours is not stated');
    expect(why(1, null)).toContain('the uncertainty of theirs is not stated');
    expect(why(null, null)).toContain('the uncertainty of ours is not stated');
  });

  it('refuse a common part above either uncertainty or below 0, and a coverage factor of 0', () => {
    const input = { ours: power(102, 1), theirs: power(100, 3) };
    for (const wrong of [
      { commonStandardUncertainty_mW: 2 },
      { commonStandardUncertainty_mW: -1 },
      { coverageFactor: 0 },
      { coverageFactor: -2 },
    ]) {
      expect(() => compatibilityScore({ ...input, ...wrong })).toThrow(/common part/);
    }
    expect(compatibilityScore({ ...input, commonStandardUncertainty_mW: 1 }).zeta).toBeCloseTo(
      2 / Math.sqrt(1 + 9 - 2),
      12,
    );
  });

  it('refuse a common part above the whole', () => {
    expect(() =>
      compatibilityScore({
        ours: power(102, 1),
        theirs: power(100, 1),
        commonStandardUncertainty_mW: 2,
      }),
    ).toThrow(/common part/);
    expect(() => compatibilityScore({ ours: power(0, 1), theirs: power(100, 1) })).toThrow(
      /ours \(value_mW\) must be/,
    );
  });
});

describe('the as-new bound', () => {
  it('rules out a meter that shows more than the source ever had', () => {
    // Excess 20, margin 1.645·√(3² + 4²) = 8.2, so at least 11.8 over 108.2: 10.9 %.
    const bound = asNewBound({ now: power(120, 3), asNew: power(100, 4) });
    expect(bound.verdict).toBe('too-high');
    expect(bound.atLeast).toBeCloseTo(0.109, 3);
  });

  it('never speaks against a meter that shows less', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.1, max: 100, noNaN: true }), uniform(0, 10), (now, u) => {
        expect(asNewBound({ now: power(now, u), asNew: power(100, u) }).verdict).toBe('possible');
      }),
      { seed: 17 },
    );
  });

  it('says nothing of a source that shows what it showed as new, whatever is stated', () => {
    for (const value of [99, 100]) {
      const bound = asNewBound({ now: power(value, null), asNew: power(100, null) });
      expect(bound).toMatchObject({ verdict: 'possible', atLeast: null });
      expect(bound.why).toContain('so nothing follows about the meter');
    }
  });

  it('holds a meter possible within both uncertainties, their very end included', () => {
    // u = √(3² + 4²) = 5, 1.645 · 5 = 8.225.
    const at = (value: number) => asNewBound({ now: power(value, 3), asNew: power(100, 4) });
    expect(at(108)).toMatchObject({ verdict: 'possible', atLeast: null });
    expect(at(108).why).toBe('108 mW now against 100 mW as new: within both uncertainties.');
    expect(at(108.225).verdict).toBe('possible');
    expect(at(108.3).verdict).toBe('too-high');
    // Without a margin the excess is 1: 2 ÷ (2 − 1) − 1.
    expect(asNewBound({ now: power(2, 0), asNew: power(1, 0) }).atLeast).toBe(1);
    expect(asNewBound({ now: power(2, 0), asNew: power(1, 0) }).why).toContain('at least 100 %');
  });

  it('decides nothing without uncertainties', () => {
    expect(asNewBound({ now: power(120, null), asNew: power(100, 3) }).verdict).toBeNull();
    expect(asNewBound({ now: power(120, 3), asNew: power(100, null) }).verdict).toBeNull();
  });
});

describe('which of two meters', () => {
  const which = (
    kind: 'certificate' | 'maker',
    reference: number,
    candidate: number,
    u: number | null = 1,
  ) =>
    whichMeterIsRight({
      reference: power(reference, 1),
      candidate: power(candidate, 1),
      opinion: power(100, u),
      kind,
    }).supports;

  it('a certificate supports the one that agrees when the other does not', () => {
    expect(which('certificate', 100.5, 110)).toBe('reference');
    expect(which('certificate', 90, 100.5)).toBe('candidate');
    expect(which('certificate', 101, 100)).toBe('both');
    expect(which('certificate', 90, 110)).toBe('neither');
  });

  it('what the value shares with the reference is taken out of its score alone', () => {
    // 3 mW apart, u = 1 each: ζ = 3/√2 = 2.12 is questionable, without the shared 0.8 mW it is
    // 3/√(2 − 2 · 0.64) = 3.54 and disagrees; the candidate at 97.5 agrees with ζ = 2.5/√2 = 1.77,
    // and would not with 2.5/√0.72 = 2.95.
    const input = {
      reference: power(103, 1),
      candidate: power(97.5, 1),
      opinion: power(100, 1),
      kind: 'certificate' as const,
    };
    expect(whichMeterIsRight(input).supports).toBe('undecided');
    const shared = whichMeterIsRight({ ...input, commonWithReference_mW: 0.8 });
    expect(shared.supports).toBe('candidate');
    expect(shared.why).toMatch(
      /^The outside value speaks for the candidate\. Reference: The values are 3 % apart, 3\.5 times .* Candidate: The values are 2\.5 % apart, 1\.8 times /,
    );
  });

  it('a doubtful score supports nobody', () => {
    expect(which('certificate', 103.5, 110)).toBe('undecided');
    expect(which('certificate', 101, 103.5)).toBe('undecided');
    expect(which('certificate', 101, 130, null)).toBe('undecided');
  });

  it('a maker’s as-new value can contradict a meter but never uphold one', () => {
    expect(which('maker', 95, 120)).toBe('undecided');
    expect(which('maker', 110, 120)).toBe('neither');
    expect(which('maker', 60, 90)).toBe('undecided');
    expect(
      whichMeterIsRight({
        reference: power(95, 1),
        candidate: power(120, 1),
        opinion: power(100, 1),
        kind: 'maker',
      }).why,
    ).toMatch(/candidate is contradicted; that does not show the reference to be right/);
  });
});
