import { describe, expect, it } from 'vitest';
import { combineContributions } from '../../src/budget/combine.js';
import { dofFromRelativeUncertainty, standardUncertainty } from '../../src/budget/inputs.js';
import { halfUnit } from './figure.js';
import { G2_CONFIDENCES, TABLE_G2 } from './gumTableG2.cases.js';
import { holds } from './holds.js';
import { line, sources } from './uncertaintyBudget.cases.js';

holds(sources);

describe('coverage factors against JCGM 100:2008, Table G.2', () => {
  it.each(TABLE_G2)(
    'one contribution with %i degrees of freedom gets the printed k',
    (dof, row) => {
      for (const [i, printed] of row.split(', ').entries()) {
        const { coverage_factor } = combineContributions([line('x', 0.01, dof)], {
          confidence: G2_CONFIDENCES[i]!,
        });
        expect(Math.abs(coverage_factor - Number(printed))).toBeLessThanOrEqual(halfUnit(printed));
      }
    },
  );
});

describe('standardUncertainty and dofFromRelativeUncertainty by arithmetic', () => {
  it('a certificate at three standard deviations is divided by three exactly', () => {
    const { standard_uncertainty } = standardUncertainty({
      shape: 'normal',
      expanded_uncertainty: 240,
      coverage_factor: 3,
    });
    expect(standard_uncertainty).toBe(80);
  });

  it('a trapezoid runs from a/√6 (triangle) to a/√3 (rectangle)', () => {
    // JCGM 100:2008, 4.3.9 (9a, 9b): u² = a²(1 + β²)/6.
    const u = (top_to_base: number) =>
      standardUncertainty({ shape: 'trapezoid', half_width: 1, top_to_base }).standard_uncertainty;
    expect(u(0)).toBeCloseTo(1 / Math.sqrt(6), 12);
    expect(u(1)).toBeCloseTo(1 / Math.sqrt(3), 12);
    expect(u(0.5)).toBeCloseTo(Math.sqrt(1.25 / 6), 12);
    const triangle = standardUncertainty({ shape: 'triangular', half_width: 1 });
    expect(triangle.standard_uncertainty).toBeCloseTo(1 / Math.sqrt(6), 12);
  });

  it('ν = 1/(2r²)', () => {
    expect(dofFromRelativeUncertainty(0.25)).toBe(8);
    expect(dofFromRelativeUncertainty(0.1)).toBeCloseTo(50, 10);
    expect(dofFromRelativeUncertainty(0.5)).toBe(2);
  });
});
