/**
 * NIST Statistical Reference Datasets, nonlinear regression, dataset BoxBOD (level of difficulty:
 * higher): y = b1 (1 − e^(−b2 x)). G. P. Box, W. G. Hunter, J. S. Hunter (1978), Statistics for
 * Experimenters, pp. 483–487. Data, certified values and their standard deviations as transcribed in the
 * tests of the GNU Scientific Library.
 */
import { expect, test } from 'vitest';
import { nonlinearLeastSquares } from '../../src/settle/nonlinearLeastSquares.js';
import { nearly } from '../power/lines/near.js';

const x = [1, 2, 3, 5, 7, 10];
const y = [109, 149, 149, 191, 213, 224];
const curve = {
  value: ([b1, b2]: readonly number[], t: number) => -b1 * Math.expm1(-b2 * t),
  gradient: ([b1, b2]: readonly number[], t: number) => [
    -Math.expm1(-b2 * t),
    b1 * t * Math.exp(-b2 * t),
  ],
};

test.each([
  [1, 1],
  [100, 0.75],
])('the fit gives all certified digits of BoxBOD from the start %d, %d', (b1, b2) => {
  // Certified to 11 digits; the tolerance is a relative half unit of the 11th
  const fit = nonlinearLeastSquares({ x, y, curve, start: [b1, b2] });
  nearly(fit.parameters[0], 213.80940889, 2.4e-11);
  nearly(fit.parameters[1], 0.54723748542, 1e-11);
  const s = Math.sqrt(fit.residualSumOfSquares / fit.dof);
  nearly(s * Math.sqrt(fit.unscaledCovariance[0][0]), 12.354515176, 4.1e-11);
  nearly(s * Math.sqrt(fit.unscaledCovariance[1][1]), 0.10455993237, 4.8e-11);
  nearly(fit.residualSumOfSquares, 1168.0088766, 4.3e-11);
  expect(fit.dof).toBe(4);
});
