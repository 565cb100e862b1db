import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { combineContributions } from '../../src/budget/combine.js';
import { type BudgetPart, coverageOfBudget } from '../../src/budget/coverageOfBudget.js';
import { exactDistribution } from '../../src/budget/exactDistribution.js';
import { normalQuantile } from '../../src/statistics/distributions.js';
import { seededRandom } from '../../src/statistics/random.js';
import { studentPlusRectangular } from '../../src/statistics/studentPlusRectangular.js';
import { KNOWN_EXACTLY } from '../../src/vocabulary.js';

const part = (shape: BudgetPart['shape'], u: number, dof = KNOWN_EXACTLY): BudgetPart => ({
  shape,
  relative_standard_uncertainty: u,
  dof,
});
const exact = (parts: readonly BudgetPart[]) =>
  exactDistribution(
    parts.map((one) => ({
      shape: one.shape,
      standard_uncertainty: one.relative_standard_uncertainty,
      dof: one.dof,
    })),
  ).coverageInterval(0.95)[1];

describe('coverageOfBudget', () => {
  it('is the formula where every part is normal or has 4 degrees of freedom or more', () => {
    // JCGM 100:2008, G.4.1, note: three parts of 0.25, 0.57 and 0.82 % with 9, 4 and 14 degrees of
    // freedom have ν = 19 and k = t₉₅(19) = 2.09.
    const parts = [
      part('student', 0.0025, 9),
      part('student', 0.0057, 4),
      part('student', 0.0082, 14),
    ];
    const answer = coverageOfBudget(parts, 0.95);
    expect(answer.rule).toBe('formula');
    expect(Math.abs(answer.dof - 19.0)).toBeLessThanOrEqual(0.05);
    expect(Math.abs(answer.coverageFactor - 2.09)).toBeLessThanOrEqual(0.005);
    const combined = combineContributions(
      parts.map((one, i) => ({ ...one, name: `${i}`, type: 'A' as const, note: '' })),
      { confidence: 0.95 },
    );
    expect(answer.high).toBe(combined.relative_expanded_uncertainty);
    expect(answer.standardUncertainty).toBe(combined.relative_standard_uncertainty);
  });

  it('joins from 4 degrees of freedom, and heeds no part of zero', () => {
    // u = 5 of 3 (ν = 4) and 4 (known): ν = 5⁴/(3⁴/4) = 625·4/81
    const rule = (...parts: readonly BudgetPart[]) => coverageOfBudget(parts, 0.95).rule;
    const known = part('normal', 0.04);
    const joined = coverageOfBudget([part('student', 0.03, 4), known, part('arcsine', 0, 1)], 0.95);
    expect(joined.rule).toBe('formula');
    expect(joined.dof).toBeCloseTo(2500 / 81, 9);
    expect(joined.standardUncertainty).toBeCloseTo(0.05, 15);
    expect(joined.high).toBe(joined.coverageFactor * joined.standardUncertainty);
    expect(joined.low).toBe(-joined.high);
    expect(rule(part('student', 0.03, 3.99), known)).toBe('exact');
    expect(rule(part('rectangular', 1e-9), known)).toBe('exact');
    expect(rule(part('student', 0, 1), known)).toBe('formula');
  });

  it('is for one t and one rectangle the closed form, with u, ν and k of the whole', () => {
    // u = 5 of 3 (ν = 2) and 4 (known): ν = 625·2/81
    const high = studentPlusRectangular({
      standardUncertainty: 0.03,
      dof: 2,
      rectangular: 0.04,
      confidence: 0.9,
    });
    const found = coverageOfBudget([part('rectangular', 0.04), part('student', 0.03, 2)], 0.9);
    expect(found).toEqual({
      standardUncertainty: expect.closeTo(0.05, 15),
      dof: expect.closeTo(1250 / 81, 9),
      low: -found.high,
      high: expect.closeTo(high, 7),
      coverageFactor: expect.closeTo(high / 0.05, 5),
      rule: 'exact',
    });
    // Two parts that join to 0.03 with ν = 9²/(4.5²/4 + 4.5²/4) = 8, beside a rectangle.
    const half = 0.03 / Math.SQRT2;
    const pair = [part('student', half, 4), part('student', half, 4)];
    expect(coverageOfBudget([...pair, part('rectangular', 0.04)], 0.9).high).toBeCloseTo(
      studentPlusRectangular({
        standardUncertainty: 0.03,
        dof: 8,
        rectangular: 0.04,
        confidence: 0.9,
      }),
      7,
    );
  });

  it('gives one wide rectangle no tails: ± 17.0 for JCGM 101:2008, 9.2.4', () => {
    const { high, low, coverageFactor, rule } = coverageOfBudget(
      [0.01, 0.01, 0.01, 0.1].map((u) => part('rectangular', u)),
      0.95,
    );
    expect(rule).toBe('exact');
    expect(Math.abs(high - 0.17)).toBeLessThanOrEqual(0.0005);
    expect(low).toBe(-high);
    expect(coverageFactor).toBeCloseTo(high / Math.sqrt(0.0103), 12);
  });

  it('keeps few degrees of freedom apart, to the exact distribution', () => {
    const parts = [part('student', 0.003, 10), part('student', 0.03, 2), part('normal', 0.0125)];
    const { high, rule, coverageFactor } = coverageOfBudget(parts, 0.95);
    expect(rule).toBe('exact');
    // ν = 10 and the certificate join; alone they are all but normal.
    expect(high / exact(parts)).toBeCloseTo(1, 2);
    expect(coverageFactor).toBeGreaterThan(3);
  });

  it('holds the truth where the formula loses it', () => {
    // ν = 1 with a third of it at ν = 20: 87.7 % for the formula by fixtures/welchSatterthwaite.py.
    // 1000 studies know 95 % to 0.7 % and 88 % to 1 %; three of that.
    const random = seededRandom(3);
    const studies = 1000;
    let exactHeld = 0;
    let formulaHeld = 0;
    const s = (dof: number) => {
      let sum = 0;
      for (let i = 0; i < dof; i++) sum += random.normal() ** 2;
      return Math.sqrt(sum / dof);
    };
    for (let i = 0; i < studies; i++) {
      const error = random.normal() + 0.3 * random.normal();
      const parts = [part('student', s(1), 1), part('student', 0.3 * s(20), 20)];
      if (Math.abs(error) <= coverageOfBudget(parts, 0.95).high) exactHeld++;
      const formula = combineContributions(
        parts.map((one, j) => ({ ...one, name: `${j}`, type: 'A' as const, note: '' })),
        { confidence: 0.95 },
      );
      if (Math.abs(error) <= formula.relative_expanded_uncertainty) formulaHeld++;
    }
    expect(exactHeld / studies).toBeGreaterThanOrEqual(0.93);
    expect(exactHeld / studies).toBeLessThanOrEqual(0.98);
    expect(Math.abs(formulaHeld / studies - 0.877)).toBeLessThanOrEqual(0.03);
  });

  it('takes a normal part with few degrees of freedom for what it is', () => {
    const parts = [part('normal', 0.01, 2), part('rectangular', 0.01)];
    expect(coverageOfBudget(parts, 0.95).high).toBe(
      coverageOfBudget([part('student', 0.01, 2), part('rectangular', 0.01)], 0.95).high,
    );
  });

  it('scales, and turns neither on order nor on parts of zero', () => {
    const any = fc.record({
      shape: fc.constantFrom('normal', 'student', 'rectangular', 'triangular', 'arcsine'),
      relative_standard_uncertainty: fc.double({ min: 1e-4, max: 0.05, noNaN: true }),
      dof: fc.double({ min: 1, max: 40, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.array(any, { minLength: 1, maxLength: 5 }), (parts) => {
        const { high, coverageFactor, standardUncertainty } = coverageOfBudget(parts, 0.95);
        const doubled = parts.map((one) => ({
          ...one,
          relative_standard_uncertainty: 2 * one.relative_standard_uncertainty,
        }));
        expect(coverageOfBudget(doubled, 0.95).high / high).toBeCloseTo(2, 6);
        const turned = [...parts].reverse();
        expect(coverageOfBudget([part('student', 0, 1), ...turned], 0.95).high / high).toBeCloseTo(
          1,
          6,
        );
        expect(coverageFactor * standardUncertainty).toBeCloseTo(high, 12);
        // Never inside what a normal distribution of the same u would have at a much lower level.
        expect(coverageFactor).toBeGreaterThan(1.2);
      }),
      { seed: 4, numRuns: 60 },
    );
  });

  it('has no width and the k of the normal distribution for a budget of nothing', () => {
    for (const parts of [[], [part('rectangular', 0), part('student', 0, 1)]]) {
      expect(coverageOfBudget(parts, 0.95)).toEqual({
        standardUncertainty: 0,
        dof: KNOWN_EXACTLY,
        low: 0,
        high: 0,
        coverageFactor: expect.closeTo(normalQuantile(0.975), 4),
        rule: 'formula',
      });
    }
  });

  it.each([
    ['a negative uncertainty', [part('normal', -0.1)], 0.95],
    ['an uncertainty that is no number', [part('rectangular', Number.NaN)], 0.95],
    ['no list', 0.1 as unknown as BudgetPart[], 0.95],
    ['no degrees of freedom in a rectangle', [part('rectangular', 0.1, 0)], 0.95],
    ['degrees of freedom below 1 in a t part', [part('student', 0.1, 0.5)], 0.95],
    ['degrees of freedom that are no number', [part('student', 0.1, Number.NaN)], 0.95],
    ['a shape nobody knows', [part('cosine' as 'normal', 0.1)], 0.95],
    ['a confidence level in percent', [part('normal', 0.1)], 95],
  ])('refuses %s', (_, parts, confidence) => {
    expect(() => coverageOfBudget(parts, confidence)).toThrowError(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });
});
