import { correlationOfResults, propagateUncertainty } from '../../src/budget/propagate.js';
import { leastSquares } from '../../src/statistics/leastSquares.js';
import { b, t } from './calibrationLines.cases.js';
import { figure, once, type PublishedSource } from './figure.js';

// l = l_s + d − l_s (δα·θ + α_s·δθ); Table H.1.
export const endGauge = once(() =>
  propagateUncertainty({
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
  }),
);

// Table H.2: five simultaneous observations; V in V, I in mA, φ in rad.
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
  [0, 1, 2].map((j) => (i === j ? 1 : covariance(Math.min(i, j), Math.max(i, j)) / (u[i] * u[j]))),
);
const inputs = ['V', 'I', 'φ'].map((name, i) => ({
  name,
  value: means[i],
  standard_uncertainty: u[i],
  dof: 4,
}));
const of = (model: (x: readonly number[]) => number) =>
  propagateUncertainty({ model, inputs, correlation, confidence: 0.95 });
export const R = of(([V, I, phi]) => (V / I) * Math.cos(phi));
const X = of(([V, I, phi]) => (V / I) * Math.sin(phi));
const Z = of(([V, I]) => V / I);
const between = (first: typeof R, second: typeof R) =>
  correlationOfResults(first, second, correlation);

/** The correction at 30 °C of H.3 with the origin at t0, and the correlation of the line's ends. */
export const predicted = (t0: number) => {
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

const mass = once(() =>
  propagateUncertainty({
    model: ([reference, correction, air, density, standard]) =>
      (reference + correction) * (1 + (air - 1.2) * (1 / density - 1 / standard)) - 100_000,
    inputs: [
      { name: 'reference mass', value: 100_000, standard_uncertainty: 0.05 },
      { name: 'correction', value: 1.234, standard_uncertainty: 0.02 },
      { name: 'air', value: 1.2, standard_uncertainty: 0.1 / Math.sqrt(3) },
      { name: 'weight', value: 8000, standard_uncertainty: 1000 / Math.sqrt(3) },
      { name: 'reference', value: 8000, standard_uncertainty: 50 / Math.sqrt(3) },
    ],
    confidence: 0.95,
  }),
);
const loss = (x1: number) => {
  const found = propagateUncertainty({
    model: ([a, b]) => 1e6 * (a * a + b * b),
    inputs: [
      { name: 'x1', value: x1, standard_uncertainty: 0.005 },
      { name: 'x2', value: 0, standard_uncertainty: 0.005 },
    ],
    confidence: 0.95,
  });
  return [found.standard_uncertainty, found.second_order_standard_uncertainty];
};

export const sources: readonly PublishedSource[] = [
  {
    source: 'JCGM 100:2008 (GUM), H.1: end gauge, nm',
    figures: [
      figure('length', '50000838', () => endGauge().value),
      figure('contributions', '25, 9.7, 2.9, 0, 0', () =>
        endGauge()
          .inputs.slice(0, 5)
          .map(({ effect }) => Math.abs(effect)),
      ),
      figure('contribution of δθ', '16.6', () => Math.abs(endGauge().inputs[5].effect), {
        within: 0.1,
        note: 'the table prints it from the unrounded 0.05/√3',
      }),
      figure('combined u', '32', () => endGauge().standard_uncertainty),
      figure('u²', '1002', () => endGauge().standard_uncertainty ** 2, {
        within: 4,
        note: 'the rounded inputs of table H.1 give 1004',
      }),
      figure(
        'u with the terms of second order',
        '34',
        () => endGauge().second_order_standard_uncertainty,
      ),
      figure('U to 99 %', '93', () => endGauge().expanded_uncertainty, {
        within: 1,
        note: 'printed: 2.92 × 32; 92.5 without rounding u',
      }),
    ],
  },
  {
    source: 'JCGM 100:2008 (GUM), H.2: impedance, Ω',
    read: 'a transcription, the tests of the uncertainty library Suncal; correlations of the inputs: the manual of the library GTC',
    figures: [
      figure('correlation of V and I, V and φ, I and φ', '-0.36, 0.86, -0.65', () => [
        correlation[0][1],
        correlation[0][2],
        correlation[1][2],
      ]),
      figure('R, X, Z', '127.732, 219.847, 254.260', () => [R.value, X.value, Z.value], {
        within: 0.0015,
        note: 'one unit of the last digit; the reason was not found',
      }),
      figure(
        'their u',
        '0.071, 0.295, 0.236',
        () => [R, X, Z].map((one) => one.standard_uncertainty),
        {
          within: 0.0006,
          note: 'one unit of the last digit; the reason was not found',
        },
      ),
      figure(
        'correlation of R and X, R and Z, X and Z',
        '-0.588, -0.485, 0.993',
        () => [between(R, X), between(R, Z), between(X, Z)],
        {
          within: 0.0015,
          note: 'one unit of the last digit; the reason was not found',
          memory: true,
        },
      ),
    ],
  },
  {
    source: 'JCGM 101:2008, 9.3: mass calibration, by the formula, mg',
    read: 'a transcription of JCGM GUM-5, example 7, the same case; inputs: the help of R’s propagate',
    figures: [
      figure('mean, u, u with the terms of second order', '1.2340, 0.0539, 0.0750', () => [
        mass().value,
        mass().standard_uncertainty,
        mass().second_order_standard_uncertainty,
      ]),
    ],
  },
  {
    // R gives all: x <- c(0, .01, .05); 1e6*sqrt(4*.005^4 + 4*.005^2*x^2)
    source:
      'JCGM 101:2008, 9.4.2: comparison loss, by the formula, u of first and second order, 10⁻⁶',
    read: 'the 50: JCGM GUM-5, example 16',
    figures: [
      figure('x₁ = 0', '0, 50', () => loss(0)),
      figure('x₁ = 0.010', '100, 112', () => loss(0.01), { memory: true }),
      figure('x₁ = 0.050', '500, 502', () => loss(0.05), { memory: true }),
    ],
  },
];
