import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  dofFromRelativeUncertainty,
  standardUncertainty,
  type UncertaintyStatement,
} from '../../src/budget/inputs.js';
import { monteCarlo } from '../../src/budget/monteCarlo.js';
import { KNOWN_EXACTLY } from '../../src/vocabulary.js';

describe('standardUncertainty', () => {
  it.each([
    { shape: 'rectangular', half_width: 2 },
    { shape: 'triangular', half_width: 2 },
    { shape: 'arcsine', half_width: 2 },
    { shape: 'trapezoid', half_width: 2, top_to_base: 0.3 },
  ] as const)('is the standard deviation of what is drawn from $shape', (shape) => {
    const drawn = monteCarlo({
      model: ([x]) => x,
      inputs: [{ ...shape, value: 7 }],
      confidence: 0.95,
      seed: 5,
      maxTrials: 200_000,
    });
    const { standard_uncertainty: u } = standardUncertainty(shape);
    // 2·10⁵ draws know a standard deviation to about 0.2 %; four times that.
    expect(Math.abs((drawn.standard_uncertainty ?? 0) / u - 1)).toBeLessThan(0.008);
    expect(Math.abs((drawn.mean ?? 0) - 7)).toBeLessThan(0.02);
  });

  it('grows in step with the stated amount', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1e6, noNaN: true }), (step) => {
        const { standard_uncertainty } = standardUncertainty({ shape: 'resolution', step });
        expect(standard_uncertainty).toBeCloseTo(step / Math.sqrt(12), 6);
      }),
      { seed: 3 },
    );
  });

  it('takes an interval with stated degrees of freedom as one of Student', () => {
    // JCGM 100:2008, Table G.2: t95(5) = 2.57.
    const { standard_uncertainty, dof } = standardUncertainty({
      shape: 'interval',
      half_width: 2.57,
      confidence: 0.95,
      dof: 5,
    });
    expect(Math.abs(standard_uncertainty - 1)).toBeLessThan(0.002);
    expect(dof).toBe(5);
  });

  it('takes a statement without doubt as known exactly, and a doubt for what it is', () => {
    const statement = { shape: 'rectangular', half_width: 1 } as const;
    expect(standardUncertainty(statement).dof).toBe(KNOWN_EXACTLY);
    expect(standardUncertainty({ ...statement, relative_uncertainty: 0.25 }).dof).toBe(8);
    expect(dofFromRelativeUncertainty(1e-9)).toBe(KNOWN_EXACTLY);
  });

  const KNOWN = KNOWN_EXACTLY;
  it.each<[UncertaintyStatement, number, number]>([
    [{ shape: 'normal', expanded_uncertainty: 6, coverage_factor: 2, dof: 50 }, 3, 50],
    [{ shape: 'normal', expanded_uncertainty: 0, coverage_factor: 2 }, 0, KNOWN],
    // R: 1.959964/qnorm(0.975), 1.644854/qnorm(0.95); t95(5) = 2.570582 (SciPy: stats.t.ppf(0.975, 5))
    [{ shape: 'interval', half_width: 1.959964, confidence: 0.95 }, 1, KNOWN],
    [{ shape: 'interval', half_width: 1.644854, confidence: 0.9, dof: 2e6 }, 1, KNOWN],
    [{ shape: 'interval', half_width: 2.570582, confidence: 0.95, dof: 5 }, 1, 5],
    // A doubt about it does not make it an interval of Student: 1/(2·0.1²).
    [
      { shape: 'interval', half_width: 1.959964, confidence: 0.95, relative_uncertainty: 0.1 },
      1,
      50,
    ],
    [{ shape: 'rectangular', half_width: 3 }, Math.sqrt(3), KNOWN],
    [{ shape: 'triangular', half_width: 6, relative_uncertainty: 0 }, Math.sqrt(6), KNOWN],
    [{ shape: 'arcsine', half_width: 2, relative_uncertainty: 0.5 }, Math.SQRT2, 2],
    // u² = a²(1 + β²)/6
    [{ shape: 'trapezoid', half_width: 6, top_to_base: 0.5 }, Math.sqrt(7.5), KNOWN],
    [{ shape: 'trapezoid', half_width: 6, top_to_base: 0 }, Math.sqrt(6), KNOWN],
    [{ shape: 'trapezoid', half_width: 6, top_to_base: 1 }, Math.sqrt(12), KNOWN],
    [{ shape: 'resolution', step: 12, dof: 0.5 }, Math.sqrt(12), 0.5],
  ])('of %j is %f with ν = %f', (statement, standard_uncertainty, dof) => {
    expect(standardUncertainty(statement)).toEqual({
      standard_uncertainty: expect.closeTo(standard_uncertainty, 6),
      dof: expect.closeTo(dof, 9),
    });
  });

  it.each<[string, UncertaintyStatement]>([
    ['a negative width', { shape: 'rectangular', half_width: -1 }],
    ['k of zero', { shape: 'normal', expanded_uncertainty: 1, coverage_factor: 0 }],
    ['a confidence in percent', { shape: 'interval', half_width: 1, confidence: 95 }],
    ['a top wider than its base', { shape: 'trapezoid', half_width: 1, top_to_base: 1.2 }],
    ['a top below zero', { shape: 'trapezoid', half_width: 1, top_to_base: -0.01 }],
    ['no top', { shape: 'trapezoid', half_width: 1 } as UncertaintyStatement],
    ['a doubt below zero', { shape: 'resolution', step: 1, relative_uncertainty: -0.1 }],
    ['no U', { shape: 'normal', coverage_factor: 2 } as UncertaintyStatement],
    ['both dof and doubt', { shape: 'resolution', step: 1, dof: 3, relative_uncertainty: 0.1 }],
    ['zero degrees of freedom', { shape: 'resolution', step: 1, dof: 0 }],
    ['a step that is no number', { shape: 'resolution', step: Number.NaN }],
  ])('refuses %s', (_, statement) => {
    expect(() => standardUncertainty(statement)).toThrowError(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });
});
