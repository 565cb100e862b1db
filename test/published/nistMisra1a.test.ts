/**
 * NIST Statistical Reference Datasets, nonlinear regression, dataset Misra1a (D. Misra, NIST):
 * y = b1 (1 − e^(−b2 x)), which is the step response of a first-order sensor.
 */
import { expect, test } from 'vitest';
import { fitStepResponse } from '../../src/settle/fitStepResponse.js';
import { nonlinearLeastSquares } from '../../src/settle/nonlinearLeastSquares.js';
import { nearly } from '../power/lines/near.js';

const x = [
  77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0,
];
const y = [
  10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47, 81.78,
];
const curve = {
  value: ([b1, b2]: readonly number[], t: number) => -b1 * Math.expm1(-b2 * t),
  gradient: ([b1, b2]: readonly number[], t: number) => [
    -Math.expm1(-b2 * t),
    b1 * t * Math.exp(-b2 * t),
  ],
};

test.each([
  [500, 0.0001],
  [250, 0.0005],
])('the fit gives all certified digits of Misra1a from the start %d, %d', (b1, b2) => {
  // Certified to 11 digits (all of them read in a transcription of NIST's file, in the tests of
  // Python's statsmodels; recomputed in R): relative half unit of the 11th
  const fit = nonlinearLeastSquares({ x, y, curve, start: [b1, b2] });
  nearly(fit.parameters[0], 238.94212918, 3e-11);
  nearly(fit.parameters[1], 0.00055015643181, 1e-11);
  const s = Math.sqrt(fit.residualSumOfSquares / fit.dof);
  nearly(s * Math.sqrt(fit.unscaledCovariance[0][0]), 2.7070075241, 2e-11);
  nearly(s * Math.sqrt(fit.unscaledCovariance[1][1]), 7.2668688436e-6, 1e-11);
  nearly(fit.residualSumOfSquares, 0.12455138894, 5e-11);
  nearly(s, 0.1018787633, 3e-10);
  expect(fit.dof).toBe(12);
});

test('taken as a trace, Misra1a ends after 0.4 time constants and is refused by default', () => {
  const trace = { elapsed_s: x, reading_mW: y };
  const refusal = fitStepResponse(trace);
  expect(refusal).toMatchObject({ status: 'refused', reason: 'too-short' });
  // Asked for all the same, level and time constant are the certified b1 and 1/b2
  const fit = fitStepResponse(trace, { leastTimeConstants: 0 });
  if (fit.status !== 'fitted') throw new Error(fit.why);
  nearly(fit.settled_mW.value, 238.94212918, 3e-11);
  nearly(fit.time_constant_s.value, 1 / 0.00055015643181, 2e-11);
  // u(1/b2) = u(b2)/b2²
  nearly(fit.time_constant_s.standard_uncertainty, 7.2668688436e-6 / 0.00055015643181 ** 2, 1e-10);
  nearly(fit.residual_sd_mW, 0.1018787633, 3e-10);
});
