import { describe, expect, it } from 'vitest';
import { correlationOfResults, propagateUncertainty } from '../../src/budget/propagate.js';
import { leastSquares } from '../../src/statistics/leastSquares.js';

describe('propagateUncertainty against JCGM 100:2008, H.1, end gauge (lengths in nm)', () => {
  // l = l_s + d − l_s (δα·θ + α_s·δθ); Table H.1.
  const result = propagateUncertainty({
    model: ([ls, d, dAlpha, theta, alpha, dTheta]) =>
      ls + d - ls * (dAlpha * theta + alpha * dTheta),
    inputs: [
      { name: 'l_s', value: 50_000_623, standard_uncertainty: 25, dof: 18 },
      { name: 'd', value: 215, standard_uncertainty: 9.7, dof: 25.6 },
      { name: 'δα', value: 0, standard_uncertainty: 0.58e-6, dof: 50 },
      { name: 'θ', value: -0.1, standard_uncertainty: 0.41 },
      { name: 'α_s', value: 11.5e-6, standard_uncertainty: 1.2e-6 },
      { name: 'δθ', value: 0, standard_uncertainty: 0.029, dof: 2 },
    ],
    confidence: 0.99,
  });

  it('gives the printed length 50 000 838 nm', () => {
    expect(Math.round(result.value)).toBe(50_000_838);
  });

  it('gives the printed contributions 25, 9.7, 2.9, 0, 0 and 16.6 nm', () => {
    const effects = result.inputs.map((input) => Math.abs(input.effect));
    expect(Math.abs(effects[0] - 25)).toBeLessThanOrEqual(0.05);
    expect(Math.abs(effects[1] - 9.7)).toBeLessThanOrEqual(0.05);
    expect(Math.abs(effects[2] - 2.9)).toBeLessThanOrEqual(0.05);
    expect(effects[3]).toBeLessThanOrEqual(0.05);
    expect(effects[4]).toBeLessThanOrEqual(0.05);
    // 575 nm/°C × 0.029 °C = 16.7; the table prints 16.6 from the unrounded 0.05/√3.
    expect(Math.abs(effects[5] - 16.6)).toBeLessThanOrEqual(0.1);
  });

  it('gives the printed combined uncertainty 32 nm', () => {
    // H.1.4: u_c² = 1002 nm².
    expect(Math.abs(result.standard_uncertainty - 32)).toBeLessThanOrEqual(0.5);
    expect(Math.abs(result.standard_uncertainty ** 2 - 1002)).toBeLessThanOrEqual(4);
  });

  it('gives the printed 34 nm with the terms of second order', () => {
    // H.1.7: 11.7 nm and 1.7 nm in addition, 34 nm.
    expect(Math.abs((result.second_order_standard_uncertainty ?? 0) - 34)).toBeLessThanOrEqual(0.5);
  });

  it('gives the printed degrees of freedom 16 and U99 = 93 nm', () => {
    // H.1.6: 16.7, truncated to 16; 2.92 × 32 = 93 nm (92.5 without rounding u).
    expect(Math.floor(result.dof ?? 0)).toBe(16);
    expect(Math.abs((result.expanded_uncertainty ?? 0) - 93)).toBeLessThanOrEqual(1);
  });
});

describe('propagateUncertainty against JCGM 100:2008, H.2, impedance', () => {
  // Table H.2: five simultaneous observations; V in V, I in mA, φ in rad. Readings and values with
  // uncertainties read in a transcription, the tests of the public uncertainty library Suncal.
  const readings = [
    [5.007, 4.994, 5.005, 4.99, 4.999],
    [19.663, 19.639, 19.64, 19.685, 19.678].map((i) => i / 1000),
    [1.0456, 1.0438, 1.0468, 1.0428, 1.0433],
  ];
  const means = readings.map((all) => all.reduce((sum, one) => sum + one, 0) / 5);
  const covariance = (i: number, j: number) =>
    readings[i].reduce(
      (sum, _, n) => sum + (readings[i][n] - means[i]) * (readings[j][n] - means[j]),
      0,
    ) / 20;
  const u = [0, 1, 2].map((i) => Math.sqrt(covariance(i, i)));
  const correlation = [0, 1, 2].map((i) =>
    [0, 1, 2].map((j) =>
      i === j ? 1 : covariance(Math.min(i, j), Math.max(i, j)) / (u[i] * u[j]),
    ),
  );
  const inputs = ['V', 'I', 'φ'].map((name, i) => ({
    name,
    value: means[i],
    standard_uncertainty: u[i],
    dof: 4,
  }));
  const of = (model: (x: readonly number[]) => number) =>
    propagateUncertainty({ model, inputs, correlation, confidence: 0.95 });
  const R = of(([V, I, phi]) => (V / I) * Math.cos(phi));
  const X = of(([V, I, phi]) => (V / I) * Math.sin(phi));
  const Z = of(([V, I]) => V / I);

  it.each([
    // r(V,I) = −0.36, r(V,φ) = 0.86, r(I,φ) = −0.65, read in the manual of the library GTC.
    [0, 1, -0.36],
    [0, 2, 0.86],
    [1, 2, -0.65],
  ])('starts from the printed correlation of inputs %i and %i', (i, j, r) => {
    expect(Math.abs(correlation[i][j] - r)).toBeLessThanOrEqual(0.005);
  });

  it.each([
    // Tables H.3 and H.4: values and standard uncertainties in Ω.
    ['R', R, 127.732, 0.071],
    ['X', X, 219.847, 0.295],
    ['Z', Z, 254.26, 0.236],
  ])('gives the printed value and uncertainty of %s', (_, result, value, uncertainty) => {
    expect(Math.abs(result.value - value)).toBeLessThanOrEqual(0.0015);
    expect(Math.abs(result.standard_uncertainty - uncertainty)).toBeLessThanOrEqual(0.0006);
  });

  it.each([
    // Table H.3: correlation of the results (from memory).
    ['R and X', R, X, -0.588],
    ['R and Z', R, Z, -0.485],
    ['X and Z', X, Z, 0.993],
  ])('gives the printed correlation of %s', (_, first, second, r) => {
    expect(Math.abs(correlationOfResults(first, second, correlation) - r)).toBeLessThanOrEqual(
      0.0015,
    );
  });

  it('offers no degrees of freedom for correlated inputs, and says why', () => {
    expect(R.dof).toBeNull();
    expect(R.expanded_uncertainty).toBeNull();
    expect(R.why).toMatch(/independent/);
  });
});

describe('propagateUncertainty against JCGM 100:2008, H.3, thermometer correction at 30 °C', () => {
  // Table H.6: readings and observed corrections in °C; b(t) = y1 + y2 (t − 20 °C).
  const t = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511];
  const b = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16];
  const predicted = (t0: number) => {
    const fit = leastSquares(
      t.map((one) => [1, one - t0]),
      b,
    );
    const s2 = fit.residualSumOfSquares / fit.dof;
    const u = [0, 1].map((i) => Math.sqrt(s2 * fit.unscaledCovariance[i][i]));
    const r = (s2 * fit.unscaledCovariance[0][1]) / (u[0] * u[1]);
    const result = propagateUncertainty({
      model: ([y1, y2]) => y1 + y2 * (30 - t0),
      inputs: [
        { name: 'y1', value: fit.coefficients[0], standard_uncertainty: u[0] },
        { name: 'y2', value: fit.coefficients[1], standard_uncertainty: u[1] },
      ],
      correlation: [
        [1, r],
        [r, 1],
      ],
      confidence: 0.95,
    });
    return { result, r };
  };

  it('gives the printed −0.1494 °C ± 0.0041 °C with r = −0.930', () => {
    // H.3.3 and H.3.4.
    const { result, r } = predicted(20);
    expect(Math.abs(r + 0.93)).toBeLessThanOrEqual(0.0005);
    expect(Math.abs(result.value + 0.1494)).toBeLessThanOrEqual(0.00005);
    expect(Math.abs(result.standard_uncertainty - 0.0041)).toBeLessThanOrEqual(0.00005);
  });

  it('gives the same with the origin at the mean, where the correlation vanishes', () => {
    // H.3.5: t0 = 24.0085 °C makes r = 0.
    const { result, r } = predicted(24.0085);
    expect(Math.abs(r)).toBeLessThanOrEqual(0.001);
    expect(Math.abs(result.standard_uncertainty - 0.0041)).toBeLessThanOrEqual(0.00005);
  });
});

describe('propagateUncertainty against JCGM 101:2008, 9.3 and 9.4', () => {
  it('gives the printed first and higher order uncertainties of the mass calibration', () => {
    // Table 6: 1.2340 mg, 0.0539 mg to first order, 0.0750 mg with the terms of higher order; read
    // in a transcription of JCGM GUM-5, example 7, the same case. Inputs: help of R's propagate.
    const result = propagateUncertainty({
      model: ([mass, correction, air, density, reference]) =>
        (mass + correction) * (1 + (air - 1.2) * (1 / density - 1 / reference)) - 100_000,
      inputs: [
        { name: 'reference mass', value: 100_000, standard_uncertainty: 0.05 },
        { name: 'correction', value: 1.234, standard_uncertainty: 0.02 },
        { name: 'air', value: 1.2, standard_uncertainty: 0.1 / Math.sqrt(3) },
        { name: 'weight', value: 8000, standard_uncertainty: 1000 / Math.sqrt(3) },
        { name: 'reference', value: 8000, standard_uncertainty: 50 / Math.sqrt(3) },
      ],
      confidence: 0.95,
    });
    expect(Math.abs(result.value - 1.234)).toBeLessThanOrEqual(0.00005);
    expect(Math.abs(result.standard_uncertainty - 0.0539)).toBeLessThanOrEqual(0.00005);
    expect(Math.abs((result.second_order_standard_uncertainty ?? 0) - 0.075)).toBeLessThanOrEqual(
      0.00005,
    );
  });

  it.each([
    // 9.4.2: first order 0, 100, 500; with higher order 50, 112, 502 (all 10⁻⁶). The 50 was read in
    // JCGM GUM-5, example 16; R gives all: x <- c(0, .01, .05); 1e6*sqrt(4*.005^4 + 4*.005^2*x^2)
    [0, 0, 50],
    [0.01, 100, 112],
    [0.05, 500, 502],
  ])('gives the printed uncertainties of the comparison loss at x1 = %f', (x1, first, higher) => {
    const result = propagateUncertainty({
      model: ([a, b]) => 1e6 * (a * a + b * b),
      inputs: [
        { name: 'x1', value: x1, standard_uncertainty: 0.005 },
        { name: 'x2', value: 0, standard_uncertainty: 0.005 },
      ],
      confidence: 0.95,
    });
    expect(Math.abs(result.standard_uncertainty - first)).toBeLessThanOrEqual(1e-6);
    expect(Math.abs((result.second_order_standard_uncertainty ?? 0) - higher)).toBeLessThanOrEqual(
      0.5,
    );
  });
});
