import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { coverageFactor } from '../../src/statistics/distributions.js';
import type { SeriesVerdictInput } from '../../src/verdict/tolerance.js';
import { seriesVerdict, wavelengthVerdict } from '../../src/verdict/tolerance.js';
import { uniform } from '../uniform.js';

/** A series of `laps` whose K = 2 is known like a mean of single values that scatter by s. */
const series = (
  s: number,
  laps: number,
  tolerance: number,
  more: Partial<SeriesVerdictInput> = {},
) => {
  const u = s / Math.sqrt(laps);
  const half = Math.exp(coverageFactor(0.95, laps - 1) * u);
  return seriesVerdict({
    value: 2,
    low: 2 / half,
    high: 2 * half,
    relative_standard_uncertainty: u,
    dof: laps - 1,
    laps,
    tolerance,
    confidence: 0.95,
    ...more,
  });
};

describe('further laps', () => {
  // JCGM 100:2008, table G.2, 95 %: t = 2.78 (4), 2.31 (8), 2.26 (9), 2.10 (18), 2.09 (19). With
  // s = 1 % the half-widths t·s/√n are 1.24 % at n = 5, 0.77 % at 9, 0.71 % at 10, 0.48 % at 19,
  // 0.467 % at 20.
  it('follow from the t table: from 5 laps to the 10 that reach 0.72 %', () => {
    expect(series(0.01, 5, 0.0072)).toMatchObject({ verdict: 'inconclusive', further_laps: 5 });
  });

  it('follow from the t table: from 5 laps to the 20 that reach 0.47 %', () => {
    expect(series(0.01, 5, 0.0047)).toMatchObject({ verdict: 'inconclusive', further_laps: 15 });
  });

  it('are not asked for when the interval meets the tolerance', () => {
    expect(series(0.01, 5, 0.0125)).toMatchObject({ verdict: 'usable', further_laps: null });
    expect(series(0.01, 5, 0.0123).verdict).toBe('inconclusive');
  });

  it('beyond 200 laps in all are not promised, the steadiness is', () => {
    const judged = series(0.5, 5, 0.05);
    expect(judged.further_laps).toBeNull();
    expect(judged.why).toMatch(/No number of laps up to 200/);
    expect(judged.steadiness_needed).toBeGreaterThan(0);
  });

  it('settle it when they are taken, and one lap fewer does not', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.005, max: 0.2, noNaN: true }),
        fc.integer({ min: 3, max: 30 }),
        fc.double({ min: 0.005, max: 0.3, noNaN: true }),
        (s, laps, tolerance) => {
          const more = series(s, laps, tolerance).further_laps;
          fc.pre(more !== null);
          expect(series(s, laps + (more as number), tolerance).verdict).toBe('usable');
          expect(series(s, laps + (more as number) - 1, tolerance).verdict).toBe('inconclusive');
        },
      ),
      { seed: 6 },
    );
  });

  it('can be traded for steadiness: a source that steady is usable with the present laps', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 0.2, noNaN: true }),
        fc.integer({ min: 3, max: 30 }),
        (s, laps) => {
          const needed = series(s, laps, 0.005).steadiness_needed;
          fc.pre(needed !== null);
          // The scatter of a lap's ratio is √2 times that of one reading.
          const lapScatter = (needed as number) * Math.SQRT2;
          expect(series(lapScatter * 0.999, laps, 0.005).verdict).toBe('usable');
          expect(series(lapScatter * 1.001, laps, 0.005).verdict).toBe('inconclusive');
        },
      ),
      { seed: 7 },
    );
  });

  it('are told beside the scatter there is, where both meters’ is known', () => {
    const repeatability = { reference: 0.03, candidate: 0.05 };
    const both = series(0.1, 8, 0.01, { repeatability });
    // √((3² + 5²)/2) % = 4.1 %.
    expect(both.why).toMatch(/now about 4.1 %/);
    const plain = series(0.1, 8, 0.01).why;
    // 10 % of a lap's ratio are 7.1 % of one reading.
    expect(plain).toMatch(/now about 7.1 %/);
    for (const one of [
      { reference: 0.03, candidate: null },
      { reference: 0, candidate: 0 },
    ]) {
      expect(series(0.1, 8, 0.01, { repeatability: one }).why).toBe(plain);
    }
  });

  it('cannot be computed without an uncertainty and its degrees of freedom', () => {
    for (const more of [
      { dof: null },
      { dof: 0 },
      { relative_standard_uncertainty: null },
      { relative_standard_uncertainty: 0 },
      { laps: 0 },
    ]) {
      const judged = series(0.1, 8, 0.01, more);
      expect(judged).toMatchObject({ further_laps: null, steadiness_needed: null });
      expect(judged.why).toMatch(/cannot be computed from so few runs/);
    }
  });

  it('are counted from one lap too, and up to 200 in all', () => {
    // t = 12.706 (1), 4.303 (2), 3.182 (3), 2.776 (4): with s = 1 % about one lap, taken as one degree
    // of freedom, e^(t·s/√n) − 1 is 3.09 % at n = 2, 1.85 % at 3 and 1.40 % at 4.
    const one = { relative_standard_uncertainty: 0.01, dof: 1, laps: 1 };
    expect(series(0.1, 8, 0.0188, one).further_laps).toBe(2);
    expect(series(0.1, 8, 0.0183, one).further_laps).toBe(3);
    // s·t/√n for t = 1.9720 (199 degrees of freedom) and n = 200: 1.9720/√200 = 13.944 % of s.
    const last = { relative_standard_uncertainty: 0.1 / Math.sqrt(8), dof: 7, laps: 8 };
    expect(series(0.1, 8, Math.expm1(0.013945), last).further_laps).toBe(192);
    expect(series(0.1, 8, Math.expm1(0.013908), last).further_laps).toBeNull();
  });

  it('are told in words: their number, the scatter, and that no number of them serves', () => {
    // As above: from 5 laps to 10; then from 9 (t = 2.31, 0.77 %) to 10 (t = 2.26, 0.71 %).
    expect(series(0.01, 5, 0.0072).why).toContain('About 5 further laps of the same kind');
    expect(series(0.01, 9, 0.0072).why).toContain('About 1 further lap of the same kind');
    expect(series(0.01, 5, 0.0072).why).not.toContain('No number of laps');
  });

  it('are not asked for at the very tolerance', () => {
    // U = 2.5/2 − 1 = 0.25 exactly.
    const exact = { low: 1.6, high: 2.5 };
    expect(series(0.01, 5, 0.25, exact).verdict).toBe('usable');
  });

  it('are judged by the scatter of one meter alone where the other’s is not known', () => {
    const plain = series(0.1, 8, 0.01).why;
    const repeatability = { reference: null, candidate: 0.05 };
    expect(series(0.1, 8, 0.01, { repeatability }).why).toBe(plain);
  });

  it('cannot be computed where an end of the interval is missing', () => {
    for (const missing of [{ value: null }, { low: null }, { high: null }]) {
      const { why } = series(0.1, 8, 0.01, missing);
      expect(why).toMatch(/^No interval for K can be computed from 8 laps;/);
    }
  });

  it('cannot be computed without an interval, and the judgement says what to do', () => {
    const none = seriesVerdict({
      value: null,
      low: null,
      high: null,
      relative_standard_uncertainty: null,
      dof: null,
      laps: 1,
      tolerance: 0.05,
      confidence: 0.95,
    });
    expect(none).toMatchObject({ verdict: 'inconclusive', further_laps: null });
    expect(none.why).toMatch(/1 lap; take at least 5/);
  });

  it('refuses a tolerance that is no fraction', () => {
    expect(() => series(0.01, 5, 0)).toThrow(/tolerance/);
    expect(() => series(0.01, 5, 5)).toThrow(/tolerance/);
  });
});

describe('the verdict on a wavelength', () => {
  const verdict = (factor: number, low: number, high: number, tolerance = 0.05) =>
    wavelengthVerdict({ factor, low, high, tolerance }).verdict;

  it('follows the zones', () => {
    expect(verdict(1.01, 0.99, 1.03)).toBe('within-tolerance');
    expect(verdict(1.2, 1.17, 1.23)).toBe('correct-it');
    expect(verdict(0.8, 0.78, 0.82)).toBe('correct-it');
    expect(verdict(1.03, 0.99, 1.07)).toBe('not-shown');
    expect(verdict(1.2, 1.1, 1.3)).toBe('inconclusive');
    expect(verdict(1, 0.8, 1.25)).toBe('inconclusive');
  });

  it('is within tolerance exactly when every reading in the interval is off by no more than it', () => {
    const factor = fc.double({ min: 0.7, max: 1.4, noNaN: true });
    fc.assert(
      fc.property(
        factor,
        factor,
        fc.double({ min: 0.01, max: 0.3, noNaN: true }),
        (a, b, tolerance) => {
          const [low, high] = a < b ? [a, b] : [b, a];
          // C/R = 1/K for either end of the interval.
          const off = Math.max(Math.abs(1 / low - 1), Math.abs(1 / high - 1));
          fc.pre(Math.abs(off - tolerance) > 1e-9);
          expect(verdict((low + high) / 2, low, high, tolerance) === 'within-tolerance').toBe(
            off < tolerance,
          );
        },
      ),
      { seed: 8 },
    );
  });

  it('never asks for a correction that would not serve', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.5, max: 2, noNaN: true }), uniform(0, 0.4), (factor, half) => {
        const judged = verdict(factor, factor * (1 - half), factor * (1 + half));
        // Half of 1/(1 − 0.05) − 1/(1 + 0.05), relative: no interval within tolerance is wider.
        if (half > 0.0501) expect(judged).toBe('inconclusive');
        if (half < 0.0499) expect(judged).not.toBe('inconclusive');
      }),
      { seed: 9 },
    );
  });

  it('is inconclusive where the series differ by more than the tolerance, whatever the mean', () => {
    const judge = (spread: number | null, low = 1.17, high = 1.23) =>
      wavelengthVerdict({ factor: (low + high) / 2, low, high, tolerance: 0.05, spread });
    expect(judge(0.026).verdict).toBe('inconclusive');
    expect(judge(0.026).why).toContain('no one factor serves');
    expect(judge(0.024).verdict).toBe('correct-it');
    expect(judge(null).verdict).toBe('correct-it');
    expect(judge(0.026, 0.99, 1.01).verdict).toBe('inconclusive');
    expect(judge(0.024, 0.99, 1.01).verdict).toBe('within-tolerance');
    expect(() => judge(-1)).toThrow('spread');
  });

  it('counts the ends of the zones to them, and 1 to the interval that ends there', () => {
    // 1/(1 + 0.5) and 1/(1 − 0.5); U = 2.5/2 − 1 = 0.25 exactly
    expect(verdict(1, 1 / 1.5, 2, 0.5)).toBe('within-tolerance');
    expect(verdict(2, 1.6, 2.5, 0.25)).toBe('correct-it');
    expect(verdict(1.03, 1, 1.06)).toBe('not-shown');
    expect(verdict(0.97, 0.94, 1)).toBe('not-shown');
    const torn = (spread: number) =>
      wavelengthVerdict({ factor: 2, low: 1.6, high: 2.5, tolerance: 0.25, spread }).verdict;
    expect([torn(0.125), torn(0.126)]).toEqual(['correct-it', 'inconclusive']);
  });

  it('says that K is not known well enough before it says that the series differ', () => {
    const wide = { factor: 1.2, low: 1.1, high: 1.3, tolerance: 0.05, spread: 0.2 };
    expect(wavelengthVerdict(wide).why).toMatch(
      /^K is 1\.20 \(1\.10 to 1\.30\), known only to ± 8\.3 %/,
    );
  });

  it('says in which zone a reading serves as it is', () => {
    // 1/1.05 = 0.9524, 1/0.95 = 1.053
    const { why } = wavelengthVerdict({ factor: 1, low: 0.99, high: 1.01, tolerance: 0.05 });
    expect(why).toContain('all of it within 0.9524 to 1.053.');
  });

  it('says that readings are shown to be off only where the whole interval lies outside the zone', () => {
    const off = (factor: number, low: number, high: number, tolerance = 0.05) =>
      wavelengthVerdict({ factor, low, high, tolerance }).why.includes('off by more than the');
    expect([off(1.2, 1.06, 1.4), off(0.8, 0.7, 0.94)]).toEqual([true, true]);
    expect([off(1.2, 1, 1.4), off(0.8, 0.6, 1)]).toEqual([false, false]);
    expect([off(3.5, 2, 6, 0.5), off(0.4, 0.1, 1 / 1.5, 0.5)]).toEqual([false, false]);
  });

  it('says which way an uncorrected reading is off', () => {
    const why = (factor: number, low: number, high: number) =>
      wavelengthVerdict({ factor, low, high, tolerance: 0.05 }).why;
    expect(why(1.25, 1.23, 1.27)).toMatch(/20 % too low/);
    expect(why(0.8, 0.79, 0.81)).toMatch(/25 % too high/);
    expect(why(1.2, 1.1, 1.3)).toMatch(/off by more than the tolerance, but not by how much/);
  });

  it('refuses a factor outside its interval', () => {
    expect(() => verdict(1.2, 1, 1.1)).toThrow(/interval/);
    expect(() => verdict(0.9, 1, 1.1)).toThrow(/interval/);
    expect(() => verdict(1, 0, 1.1)).toThrow(/above 0/);
    expect(() => verdict(1, -0.1, 1.1)).toThrow(/above 0/);
    expect(() => verdict(1, 0.9, Number.POSITIVE_INFINITY)).toThrow(/interval/);
    expect(() => verdict(Number.NaN, 0.9, 1.1)).toThrow(/interval/);
    expect(() => verdict(1, 0.9, 1.1, 1)).toThrow(/tolerance/);
  });
});
