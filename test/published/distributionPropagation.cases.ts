import { monteCarlo } from '../../src/budget/monteCarlo.js';
import { figure, once, type PublishedSource } from './figure.js';

const seed = 101;
const sum = (x: readonly number[]) => x.reduce((total, one) => total + one, 0);
const unit = { shape: 'rectangular', value: 0, half_width: Math.sqrt(3) } as const;

const additive = { model: sum, confidence: 0.95, seed, toleranceDivisor: 5 } as const;
export const fourNormal = once(() =>
  monteCarlo({
    ...additive,
    inputs: [0, 1, 2, 3].map(() => ({ shape: 'normal', value: 0, standard_uncertainty: 1 })),
  }),
);
export const fourRectangular = once(() =>
  monteCarlo({
    ...additive,
    inputs: [unit, unit, unit, unit],
    significantDigits: 2,
    maxTrials: 1_500_000,
  }),
);
export const oneDominates = once(() =>
  monteCarlo({
    ...additive,
    inputs: [unit, unit, unit, { ...unit, half_width: 10 * Math.sqrt(3) }],
  }),
);

// δm = (m_R + δm_R)[1 + (ρ_a − 1.2)(1/ρ_W − 1/ρ_R)] − 100 g, in mg and kg/m³ (Table 5)
export const mass = once(() =>
  monteCarlo({
    model: ([reference, correction, air, density, standard]) =>
      (reference + correction) * (1 + (air - 1.2) * (1 / density - 1 / standard)) - 100_000,
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
  }),
);

// Y = X1² + X2², u(x1) = u(x2) = 0.005, x2 = 0, in 10⁻⁶
const loss = (x1: number, r: number) =>
  once(() =>
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
    }),
  );
// Half a unit of the last printed digit, and what the trials leave: four standard deviations of a
// mean, six for u with correlation.
const trials = (u: number, times: number) => ({
  within: 0.5 + (times * u) / Math.sqrt(400_000),
  note: 'half a unit and the noise of the trials',
});
const moments = (result: ReturnType<typeof loss>) => () => [
  result().mean,
  result().standard_uncertainty,
];
const at0 = loss(0, 0);
const at10 = loss(0.01, 0);
const at50 = loss(0.05, 0);
const FLAT = 'the shortest interval lies flat in its place: 0.05 u';

// Mean and u follow exactly with: x <- c(0, .01, .05)
// 1e6*sqrt(4*.005^4*(1 + r^2) + 4*.005^2*x^2)
export const sources: readonly PublishedSource[] = [
  {
    source: 'JCGM 101:2008, 9.2: additive model, by Monte Carlo',
    read: 'the tests of the uncertainty library Suncal (tables 2 and 3)',
    figures: [
      figure(
        'four normal inputs: u and 95 % interval',
        '2.0, -3.92, 3.92',
        () => [fourNormal().standard_uncertainty, ...fourNormal().symmetric],
        { within: 0.02, note: '10⁶ trials know an end to 0.0053; four times that' },
      ),
      // analytic 2√3 (2 − (3/5)^¼) = 3.8794
      figure(
        'four rectangular inputs: u and 95 % interval',
        '2.0, -3.88, 3.88',
        () => [fourRectangular().standard_uncertainty, ...fourRectangular().symmetric],
        { within: 0.01, note: '1.5·10⁶ trials know an end to 0.004' },
      ),
      figure('one dominating rectangle: u', '10.1', () => oneDominates().standard_uncertainty, {
        within: 0.1,
        note: 'δ/5 = 0.1; read in a transcription of JCGM GUM-5, example 6',
      }),
      // R: ± 17.01 by simulation, and qnorm(.975)*sqrt(103) = 19.89 for the formula
      figure('its 95 % interval', '-17.0, 17.0', () => oneDominates().symmetric, {
        within: 0.1,
        note: 'δ/5 = 0.1',
        memory: true,
      }),
    ],
  },
  {
    source: 'JCGM 101:2008, 9.3: mass calibration, by Monte Carlo, mg',
    read: 'inputs: the help of R’s propagate',
    figures: [
      // 10⁷ draws in R: 1.2340, 0.0755, [1.0840, 1.3832]
      figure('mean', '1.2341', () => mass().mean, {
        within: 0.0006,
        note: '4·10⁵ trials know the mean to 0.0002',
        memory: true,
      }),
      figure('u', '0.0754', () => mass().standard_uncertainty, {
        within: 0.0004,
        note: '4·10⁵ trials know u to 0.0001',
        memory: true,
      }),
      figure('shortest 95 % interval', '1.0834, 1.3825', () => mass().shortest, {
        within: 0.002,
        note: 'it lies flat in the trials: 0.03 u',
        memory: true,
      }),
    ],
  },
  {
    source: 'JCGM 101:2008, 9.4.2: comparison loss, by Monte Carlo, 10⁻⁶',
    read: 'x₁ = 0: JCGM GUM-5, example 16',
    figures: [
      figure('x₁ = 0: mean, u', '50, 50', moments(at0), trials(50, 4)),
      figure('x₁ = 0.010: mean, u', '150, 112', moments(at10), {
        ...trials(112, 4),
        memory: true,
      }),
      figure('x₁ = 0.050: mean, u', '2550, 502', moments(at50), {
        ...trials(502, 4),
        memory: true,
      }),
    ],
  },
  {
    source: 'JCGM 101:2008, 9.4.3: the same with correlation 0.9',
    read: 'the 67: JCGM GUM-5, example 16; the 121: a manual that quotes 9.4',
    figures: [
      figure('x₁ = 0: mean, u', '50, 67', moments(loss(0, 0.9)), trials(67, 6)),
      figure('x₁ = 0.010: mean, u', '150, 121', moments(loss(0.01, 0.9)), trials(121, 6)),
      figure('x₁ = 0.050: mean, u', '2550, 505', moments(loss(0.05, 0.9)), {
        ...trials(505, 6),
        memory: true,
      }),
    ],
  },
  {
    source:
      'R 4.2.2, noncentral χ²: the exact shortest 95 % intervals of JCGM 101:2008, 9.4.2, 10⁻⁶',
    figures: [
      figure('x₁ = 0', '0, 149.79', () => at0().shortest, { within: 0.05 * 50, note: FLAT }),
      figure('x₁ = 0.010', '0, 366.01', () => at10().shortest, { within: 0.05 * 112, note: FLAT }),
      figure('x₁ = 0.050', '1593.57, 3548.57', () => at50().shortest, {
        within: 0.05 * 502,
        note: FLAT,
      }),
    ],
  },
];
