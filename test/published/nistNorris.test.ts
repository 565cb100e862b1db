/**
 * NIST Statistical Reference Datasets, linear regression, dataset Norris (J. Norris, NIST): certified
 * line of 36 readings of ozone monitors.
 */
import { expect, test } from 'vitest';
import { ordinaryLine } from '../../src/power/lines/ordinaryLine.js';
import { weightedLine } from '../../src/power/lines/weightedLine.js';
import { nearly } from '../power/lines/near.js';

const x = [
  0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9,
  338.0, 447.5, 11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0,
  779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5,
];
const y = [
  0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8,
  339.3, 448.9, 10.8, 557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5,
  778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2,
];

test('an ordinary line gives the certified values of Norris to 12 digits', () => {
  // Certified to 15 digits. Double precision loses what forming sums of squares about the mean
  // loses, two to three digits for these data: relative tolerance 1e-12.
  const line = ordinaryLine({ x, y });
  nearly(line.intercept.value, -0.262323073774029, 1e-12);
  nearly(line.slope.value, 1.00211681802045, 1e-14);
  nearly(line.intercept.standard_uncertainty, 0.232818234301152, 1e-12);
  nearly(line.slope.standard_uncertainty, 0.000429796848199937, 1e-12);
  nearly(line.residual_sd, 0.884796396144373, 1e-12);
  nearly(line.r_squared, 0.999993745883712, 1e-14);
  expect(line.dof).toBe(34);
});

test('a weighted line with equal weights is the ordinary one', () => {
  // Same certified values; residual sum of squares 26.6173985294224 is chi-square for unit weights
  const line = weightedLine(
    { x, y, y_standard_uncertainty: x.map(() => 1) },
    { scale: 'estimated' },
  );
  nearly(line.intercept.value, -0.262323073774029, 5e-12);
  nearly(line.slope.standard_uncertainty, 0.000429796848199937, 1e-12);
  nearly(line.chi_square, 26.6173985294224, 1e-12);
});
