import { describe, expect, it } from 'vitest';
import { monteCarlo, validateFormula } from '../../src/budget/monteCarlo.js';

const seed = 101;
const sum = (x: readonly number[]) => x.reduce((total, one) => total + one, 0);
const unit = { shape: 'rectangular', value: 0, half_width: Math.sqrt(3) } as const;

describe('monteCarlo against JCGM 101:2008, 9.2, additive model', () => {
  it('four normal inputs give u = 2.00 and ± 3.92', () => {
    // 9.2.2, Table 2; read, like Table 3, in the tests of the public uncertainty library Suncal.
    const result = monteCarlo({
      model: sum,
      inputs: [0, 1, 2, 3].map(() => ({ shape: 'normal', value: 0, standard_uncertainty: 1 })),
      confidence: 0.95,
      seed,
      toleranceDivisor: 5,
    });
    // u = 2.0 with two digits has δ = 0.05, and a fifth of that is asked for, which takes some 10⁶
    // trials; they know an end to 0.0053. Four times that.
    expect(result.tolerance).toBeCloseTo(0.01, 12);
    expect(result.trials).toBeGreaterThanOrEqual(900_000);
    expect(Math.abs((result.standard_uncertainty ?? 0) - 2.0)).toBeLessThanOrEqual(0.02);
    expect(Math.abs(result.symmetric[0] + 3.92)).toBeLessThanOrEqual(0.02);
    expect(Math.abs(result.symmetric[1] - 3.92)).toBeLessThanOrEqual(0.02);
  });

  it('four rectangular inputs give ± 3.88, not the ± 3.92 of the formula', () => {
    // 9.2.3, Table 3; analytic 2√3 (2 − (3/5)^¼) = 3.8794. 1.5·10⁶ trials know an end to 0.004.
    const result = monteCarlo({
      model: sum,
      inputs: [unit, unit, unit, unit],
      confidence: 0.95,
      seed,
      toleranceDivisor: 5,
      significantDigits: 2,
      maxTrials: 1_500_000,
    });
    expect(Math.abs((result.standard_uncertainty ?? 0) - 2)).toBeLessThanOrEqual(0.01);
    expect(Math.abs(result.symmetric[0] + 3.88)).toBeLessThanOrEqual(0.01);
    expect(Math.abs(result.symmetric[1] - 3.88)).toBeLessThanOrEqual(0.01);
    expect(Math.abs(result.shortest[1] - 3.88)).toBeLessThanOrEqual(0.05);
  });

  it('one dominating rectangle gives u = 10.1 and ± 17.0, where the formula says ± 19.9', () => {
    // 9.2.4, Table 4; δ = 0.5 for u = 10 with two digits, the interval of the formula is refused.
    // u read in a transcription of JCGM GUM-5, example 6; both intervals from memory. R: ± 17.01 by
    // simulation, and qnorm(.975)*sqrt(103) = 19.89.
    const result = monteCarlo({
      model: sum,
      inputs: [unit, unit, unit, { ...unit, half_width: 10 * Math.sqrt(3) }],
      confidence: 0.95,
      seed,
      toleranceDivisor: 5,
    });
    expect(result.stable).toBe(true);
    expect(Math.abs((result.standard_uncertainty ?? 0) - 10.1)).toBeLessThanOrEqual(0.1);
    expect(Math.abs(result.symmetric[0] + 17.0)).toBeLessThanOrEqual(0.1);
    expect(Math.abs(result.symmetric[1] - 17.0)).toBeLessThanOrEqual(0.1);
    const u = Math.sqrt(103);
    const linear = { standard_uncertainty: u, low: -1.96 * u, high: 1.96 * u };
    const comparison = validateFormula(linear, result.symmetric);
    expect(comparison.tolerance).toBe(0.5);
    expect(comparison.agrees).toBe(false);
    expect(Math.abs(comparison.high_difference - 2.9)).toBeLessThanOrEqual(0.15);
  });
});

describe('monteCarlo against JCGM 101:2008, 9.3, mass calibration', () => {
  // δm = (m_R + δm_R)[1 + (ρ_a − 1.2)(1/ρ_W − 1/ρ_R)] − 100 g, in mg and kg/m³ (Table 5, read in
  // the help of R's propagate). Table 6: Monte Carlo 1.2341 mg, u = 0.0754 mg, shortest interval to
  // 95 % [1.0834, 1.3825] mg (from memory; 10⁷ draws in R: 1.2340, 0.0755, [1.0840, 1.3832]).
  const result = monteCarlo({
    model: ([mass, correction, air, density, reference]) =>
      (mass + correction) * (1 + (air - 1.2) * (1 / density - 1 / reference)) - 100_000,
    inputs: [
      { shape: 'normal', value: 100_000, standard_uncertainty: 0.05 },
      { shape: 'normal', value: 1.234, standard_uncertainty: 0.02 },
      { shape: 'rectangular', value: 1.2, half_width: 0.1 },
      { shape: 'rectangular', value: 8000, half_width: 1000 },
      { shape: 'rectangular', value: 8000, half_width: 50 },
    ],
    confidence: 0.95,
    seed,
    interval: 'shortest',
    maxTrials: 700_000,
  });

  it('gives the printed mean and standard uncertainty', () => {
    // 4·10⁵ trials and more know the mean to 0.0002 and u to 0.0001.
    expect(result.trials).toBeGreaterThan(100_000);
    expect(Math.abs((result.mean ?? 0) - 1.2341)).toBeLessThanOrEqual(0.0006);
    expect(Math.abs((result.standard_uncertainty ?? 0) - 0.0754)).toBeLessThanOrEqual(0.0004);
  });

  it('gives the printed shortest interval to the tolerance of the procedure', () => {
    // The shortest interval's place is flat in the trials; 0.002 is 0.03 u.
    expect(Math.abs(result.shortest[0] - 1.0834)).toBeLessThanOrEqual(0.002);
    expect(Math.abs(result.shortest[1] - 1.3825)).toBeLessThanOrEqual(0.002);
  });

  it('refuses the first-order formula and its interval [1.1285, 1.3395]', () => {
    // Table 6: u = 0.0539 mg, δ = 0.005 mg for one digit, "validated: no"; with the terms of higher
    // order u = 0.0750, [1.0870, 1.3810], "validated: yes". Both u were read in a transcription of
    // JCGM GUM-5, example 7; the rest is from memory. R: 1.234 + c(-1, 1)*qnorm(.975)*u
    const first = { standard_uncertainty: 0.0539, low: 1.1285, high: 1.3395 };
    const first_order = validateFormula(first, result.shortest, 1);
    expect(first_order.tolerance).toBeCloseTo(0.005, 12);
    expect(Math.abs(first_order.low_difference - 0.0451)).toBeLessThanOrEqual(0.002);
    expect(Math.abs(first_order.high_difference + 0.043)).toBeLessThanOrEqual(0.002);
    expect(first_order.agrees).toBe(false);
    const second = { standard_uncertainty: 0.075, low: 1.087, high: 1.381 };
    expect(validateFormula(second, result.shortest, 1).agrees).toBe(true);
  });
});

describe('monteCarlo against JCGM 101:2008, 9.4, comparison loss, in 10⁻⁶', () => {
  // Y = X1² + X2², u(x1) = u(x2) = 0.005, x2 = 0. Uncorrelated (9.4.2): Y/u² is noncentral
  // chi-square with 2 degrees of freedom, so the moments are exact.
  const loss = (x1: number, r: number) =>
    monteCarlo({
      model: ([a, b]) => 1e6 * (a * a + b * b),
      inputs: [
        { shape: 'normal', value: x1, standard_uncertainty: 0.005 },
        { shape: 'normal', value: 0, standard_uncertainty: 0.005 },
      ],
      correlation: [
        [1, r],
        [r, 1],
      ],
      confidence: 0.95,
      seed,
      interval: 'shortest',
      maxTrials: 400_000,
    });

  it.each([
    // x1, printed mean, printed u, shortest interval: printed [0, 150] for the first; the others
    // are the exact shortest intervals of the noncentral chi-square (computed with R 4.2.2). The
    // first mean and u were read in JCGM GUM-5, example 16; the rest of the printed is from memory.
    // All u follow exactly, with r = 0: x <- c(0, .01, .05)
    // 1e6*sqrt(4*.005^4*(1 + r^2) + 4*.005^2*x^2)
    { x1: 0, mean: 50, u: 50, low: 0, high: 149.79 },
    { x1: 0.01, mean: 150, u: 112, low: 0, high: 366.01 },
    { x1: 0.05, mean: 2550, u: 502, low: 1593.57, high: 3548.57 },
  ])('x1 = $x1: mean $mean, u $u', ({ x1, mean, u, low, high }) => {
    const result = loss(x1, 0);
    // Half a unit of the last printed digit, and four standard deviations of the trials.
    const noise = (4 * u) / Math.sqrt(result.trials);
    expect(Math.abs((result.mean ?? 0) - mean)).toBeLessThanOrEqual(0.5 + noise);
    expect(Math.abs((result.standard_uncertainty ?? 0) - u)).toBeLessThanOrEqual(0.5 + noise);
    // The shortest interval is flat in its place: 0.05 u.
    expect(Math.abs(result.shortest[0] - low)).toBeLessThanOrEqual(0.05 * u);
    expect(Math.abs(result.shortest[1] - high)).toBeLessThanOrEqual(0.05 * u);
  });

  it.each([
    // 9.4.3: correlation 0.9. Exact variance 4u⁴(1 + r²) + 4u²x1²; printed 67, 121, 505. The 67 was
    // read in JCGM GUM-5, example 16, the 121 in a manual that quotes 9.4; the 505 is from memory.
    { x1: 0, mean: 50, u: 67 },
    { x1: 0.01, mean: 150, u: 121 },
    { x1: 0.05, mean: 2550, u: 505 },
  ])('x1 = $x1 with correlation 0.9: mean $mean, u $u', ({ x1, mean, u }) => {
    const result = loss(x1, 0.9);
    const noise = (6 * u) / Math.sqrt(result.trials);
    expect(Math.abs((result.mean ?? 0) - mean)).toBeLessThanOrEqual(0.5 + noise);
    expect(Math.abs((result.standard_uncertainty ?? 0) - u)).toBeLessThanOrEqual(0.5 + noise);
  });
});
