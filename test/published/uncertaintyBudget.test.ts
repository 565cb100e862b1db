import { describe, expect, it } from 'vitest';
import { combineContributions } from '../../src/budget/combine.js';
import { dofFromRelativeUncertainty, standardUncertainty } from '../../src/budget/inputs.js';
import { coverageFactor } from '../../src/statistics/distributions.js';
import { effectiveDof } from '../../src/statistics/effectiveDof.js';

const line = (name: string, u: number, dof: number) => ({
  name,
  relative_standard_uncertainty: u,
  dof,
  type: 'A' as const,
  note: '',
});

describe('combineContributions against JCGM 100:2008, G.4.1, worked example (from memory)', () => {
  // Y = b X1 X2 X3; means of 10, 5 and 15 readings, relative standard uncertainties 0.25 %, 0.57 %
  // and 0.82 %. Printed: u = 1.03 %, effective degrees of freedom 19.0, t95(19) = 2.09, U95 = 2.2 %.
  // R: u <- c(.25,.57,.82); v <- sum(u^2)^2/sum(u^4/c(9,4,14)); sqrt(sum(u^2))*c(1, qt(.975, v))
  const combined = combineContributions(
    [line('x1', 0.0025, 9), line('x2', 0.0057, 4), line('x3', 0.0082, 14)],
    { confidence: 0.95 },
  );

  it('gives the printed combined uncertainty 1.03 %', () => {
    expect(combined.relative_standard_uncertainty * 100).toBeCloseTo(1.03, 2);
  });

  it('gives the printed effective degrees of freedom 19.0', () => {
    expect(Math.abs(combined.dof - 19.0)).toBeLessThanOrEqual(0.05);
  });

  it('gives the printed k = 2.09 and U = 2.2 %', () => {
    expect(Math.abs(combined.coverage_factor - 2.09)).toBeLessThanOrEqual(0.005);
    expect(Math.abs(combined.relative_expanded_uncertainty * 100 - 2.2)).toBeLessThanOrEqual(0.05);
  });
});

describe('effectiveDof against JCGM 100:2008, H.1 (end gauge), in nm', () => {
  // Table H.1: u(l_s) = 25 (18 dof), u(d) = 9.7 (25.6), temperature 2.9 (50), 16.6 (2).
  const parts = [
    { standard_uncertainty: 25, dof: 18 },
    { standard_uncertainty: 9.7, dof: 25.6 },
    { standard_uncertainty: 2.9, dof: 50 },
    { standard_uncertainty: 16.6, dof: 2 },
  ];

  it('gives the printed 16.7 effective degrees of freedom', () => {
    // H.1.6 prints 16.7 (and then truncates to 16); the printed inputs give 16.76, so 16.7 is cut
    // off, not rounded.
    expect(Math.floor(effectiveDof(parts) * 10) / 10).toBe(16.7);
  });

  it('gives the printed 25.6 degrees of freedom of the comparison from its three parts', () => {
    // H.1.3.2: 5.8 (24), 3.9 (5), 6.7 (8), u(d) = 9.7 nm; with the rounded 9.7 the printed 25.6,
    // without the rounding 25.4.
    const comparison = [
      { standard_uncertainty: 5.8, dof: 24 },
      { standard_uncertainty: 3.9, dof: 5 },
      { standard_uncertainty: 6.7, dof: 8 },
    ];
    const u = Math.hypot(5.8, 3.9, 6.7);
    expect(Math.abs(u - 9.7)).toBeLessThanOrEqual(0.05);
    expect(Math.abs(effectiveDof(comparison) * (9.7 / u) ** 4 - 25.6)).toBeLessThanOrEqual(0.05);
  });

  it('gives the printed 99 % expanded uncertainty 93 nm', () => {
    // H.1.6: t99(16) = 2.92, U99 = 2.92 × 32 nm = 93 nm (92.5 without rounding u to 32).
    const k = coverageFactor(0.99, Math.floor(effectiveDof(parts)));
    expect(Math.abs(k - 2.92)).toBeLessThanOrEqual(0.005);
    expect(Math.abs(k * 32 - 93)).toBeLessThanOrEqual(0.5);
  });
});

describe('coverage factors against JCGM 100:2008, Table G.2', () => {
  it.each([
    // Rows read in the same table of NIST TN 1297 (1994), table B.1; R: qt(1 - (1 - p)/2, dof).
    // dof, 95 %, 95.45 %, 99 %
    [1, 12.71, 13.97, 63.66],
    [2, 4.3, 4.53, 9.92],
    [3, 3.18, 3.31, 5.84],
    [5, 2.57, 2.65, 4.03],
    [8, 2.31, 2.37, 3.36],
    [10, 2.23, 2.28, 3.17],
    [20, 2.09, 2.13, 2.85],
    [50, 2.01, 2.05, 2.68],
  ])('one contribution with %i degrees of freedom gets the printed k', (dof, k95, k9545, k99) => {
    const k = (confidence: number) =>
      combineContributions([line('x', 0.01, dof)], { confidence }).coverage_factor;
    expect(Math.abs(k(0.95) - k95)).toBeLessThanOrEqual(0.0052);
    expect(Math.abs(k(0.9545) - k9545)).toBeLessThanOrEqual(0.0052);
    expect(Math.abs(k(0.99) - k99)).toBeLessThanOrEqual(0.0052);
  });
});

// From memory, but for what names another place below.
describe('standardUncertainty against printed examples', () => {
  it('a certificate of 240 µg at three standard deviations is 80 µg', () => {
    // JCGM 100:2008, 4.3.3, example.
    const { standard_uncertainty } = standardUncertainty({
      shape: 'normal',
      expanded_uncertainty: 240,
      coverage_factor: 3,
    });
    expect(standard_uncertainty).toBe(80);
  });

  it('129 µΩ at 99 % is 50 µΩ', () => {
    // JCGM 100:2008, 4.3.4, example. The divisor 2.576 read in NIST TN 1297 (1994), 4.3.
    const { standard_uncertainty } = standardUncertainty({
      shape: 'interval',
      half_width: 129,
      confidence: 0.99,
    });
    expect(Math.abs(standard_uncertainty - 50)).toBeLessThanOrEqual(0.5);
  });

  it('95 % normal means a divisor of 1.960, 99.73 % one of 3.00', () => {
    // NIST TN 1297 (1994), 4.3 (normal distribution: 1.960 for 95 %; read at nist.gov) and 4.6 (3
    // for 99.73 %; R: qnorm(.99865)).
    const divisor = (confidence: number) =>
      1 /
      standardUncertainty({ shape: 'interval', half_width: 1, confidence }).standard_uncertainty;
    expect(Math.abs(divisor(0.95) - 1.96)).toBeLessThanOrEqual(0.0005);
    expect(Math.abs(divisor(0.9973) - 3)).toBeLessThanOrEqual(0.005);
  });

  it('limits of ± 0.40e-6 per degree are u = 0.23e-6', () => {
    // JCGM 100:2008, 4.3.7, example 1 (copper).
    const { standard_uncertainty } = standardUncertainty({
      shape: 'rectangular',
      half_width: 0.4,
    });
    expect(Math.abs(standard_uncertainty - 0.23)).toBeLessThanOrEqual(0.005);
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

  it('a display step d is u = 0.29 d', () => {
    // JCGM 100:2008, F.2.2.1.
    const { standard_uncertainty } = standardUncertainty({ shape: 'resolution', step: 1 });
    expect(Math.abs(standard_uncertainty - 0.29)).toBeLessThanOrEqual(0.005);
  });

  it('a temperature that swings by ± 0.5 °C is u = 0.35 °C', () => {
    // JCGM 100:2008, H.1.3.4 (arcsine distribution).
    const { standard_uncertainty } = standardUncertainty({ shape: 'arcsine', half_width: 0.5 });
    expect(Math.abs(standard_uncertainty - 0.35)).toBeLessThanOrEqual(0.005);
  });

  it('an uncertainty known to a quarter has 8 degrees of freedom, known to a tenth 50', () => {
    // JCGM 100:2008, G.4.2, example (25 %, 8) and H.1.3.5 (10 %, 50), H.1.3.6 (50 %, 2).
    expect(dofFromRelativeUncertainty(0.25)).toBe(8);
    expect(dofFromRelativeUncertainty(0.1)).toBeCloseTo(50, 10);
    expect(dofFromRelativeUncertainty(0.5)).toBe(2);
  });
});
