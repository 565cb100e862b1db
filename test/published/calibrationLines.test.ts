/** Published calibration lines: GUM H.3, NIST linewidths, ISO/TS 28037. */
import { describe, expect, test } from 'vitest';
import { inverseOnLine } from '../../src/power/lines/inverseOnLine.js';
import { ordinaryLine } from '../../src/power/lines/ordinaryLine.js';
import { predictOnLine } from '../../src/power/lines/predictOnLine.js';
import { weightedLine } from '../../src/power/lines/weightedLine.js';
import { yorkLine } from '../../src/power/lines/yorkLine.js';
import { near } from '../power/lines/near.js';

describe('JCGM 100:2008, H.3: calibration of a thermometer', () => {
  // Table H.6: readings t in °C and corrections b; t0 = 20 °C
  const t = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511];
  const b = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16];
  const line = ordinaryLine({ x: t.map((value) => value - 20), y: b });

  test('line, standard uncertainties and correlation are as printed in H.3.3', () => {
    // Printed: y1 = -0.1712 °C, s = 0.0029; y2 = 0.00218, s = 0.00067; r = -0.930; s = 0.0035.
    // Tolerance half a unit of the last digit.
    near(line.intercept.value, -0.1712, 0.00005);
    near(line.intercept.standard_uncertainty, 0.0029, 0.00005);
    near(line.slope.value, 0.00218, 0.000005);
    near(line.slope.standard_uncertainty, 0.00067, 0.000005);
    near(line.residual_sd, 0.0035, 0.00005);
    const r =
      (line.covariance ?? 0) /
      ((line.intercept.standard_uncertainty ?? 0) * (line.slope.standard_uncertainty ?? 0));
    near(r, -0.93, 0.0005);
    expect(line.dof).toBe(9);
  });

  test('the predicted correction at 30 °C and its uncertainty are as printed in H.3.4', () => {
    // Printed: b(30 °C) = -0.1494, u = 0.0041
    const at30 = predictOnLine(line, { x: 10 });
    near(at30.value, -0.1494, 0.00005);
    near(at30.standard_uncertainty, 0.0041, 0.00005);
  });

  test('about the mean temperature intercept and slope are uncorrelated (H.3.5)', () => {
    const about = ordinaryLine({ x: t.map((value) => value - 24.0085), y: b });
    const r =
      (about.covariance ?? 1) /
      ((about.intercept.standard_uncertainty ?? 0) * (about.slope.standard_uncertainty ?? 0));
    // 24.0085 °C is the rounded mean: r = 0 to three digits
    near(r, 0, 0.0005);
  });
});

test('the NIST linewidth calibration line and the values read back with it are as printed', () => {
  // NIST/SEMATECH e-Handbook, 2.3.6.7.3: a = 0.2357623, b = 0.9870377, SEs 0.02430034 and 0.003441,
  // residual sd 0.06203 with 38 degrees of freedom. Tolerance half a unit of the last digit.
  const reference = [6.19, 9.17, 1.99, 7.77, 4.0, 10.77, 4.78, 2.99, 6.98, 9.98];
  const measured = [
    6.31, 9.27, 2.21, 8.0, 4.27, 10.93, 4.95, 3.24, 7.14, 10.23, 6.27, 9.21, 2.19, 7.81, 4.15,
    10.73, 4.87, 3.17, 7.07, 10.02, 6.31, 9.34, 2.22, 7.95, 4.15, 10.92, 5.0, 3.21, 7.18, 10.07,
    6.28, 9.23, 2.2, 7.84, 4.15, 10.89, 5.0, 3.21, 7.2, 10.17,
  ];
  const line = ordinaryLine({
    x: [...reference, ...reference, ...reference, ...reference],
    y: measured,
  });
  near(line.intercept.value, 0.2357623, 5e-8);
  near(line.slope.value, 0.9870377, 5e-8);
  near(line.intercept.standard_uncertainty, 0.02430034, 5e-9);
  near(line.slope.standard_uncertainty, 0.003441, 5e-7);
  near(line.residual_sd, 0.06203, 5e-6);
  expect(line.dof).toBe(38);
  // 2.3.7.1: calibrated value = (y − a) / b; first control reading 1.12 of an artifact of 0.76
  near(inverseOnLine(line, { y: 1.12 }).value, (1.12 - 0.2357623) / 0.9870377, 1e-6);
});

// Values read in the manual of the public uncertainty library GTC, which quotes pages 13, 15, 21.
describe('ISO/TS 28037:2010', () => {
  test('clause 6.3, example 1: equal known uncertainties of y', () => {
    // Printed: a = 1.867, b = 1.757, u(a) = 0.465, u(b) = 0.120, cov = -0.050, chi-square 1.665
    const line = weightedLine({
      x: [1, 2, 3, 4, 5, 6],
      y: [3.3, 5.6, 7.1, 9.3, 10.7, 12.1],
      y_standard_uncertainty: [0.5, 0.5, 0.5, 0.5, 0.5, 0.5],
    });
    near(line.intercept.value, 1.867, 0.0005);
    near(line.slope.value, 1.757, 0.0005);
    near(line.intercept.standard_uncertainty, 0.465, 0.0005);
    near(line.slope.standard_uncertainty, 0.12, 0.0005);
    near(line.covariance, -0.05, 0.0005);
    near(line.chi_square, 1.665, 0.0005);
    // Not above 9.488, the 95 % quantile for four degrees of freedom
    expect(line.p).toBeGreaterThan(0.05);
  });

  test('clause 6.3, example 2: different known uncertainties of y', () => {
    // Printed: a = 0.885, b = 2.057, u(a) = 0.530, u(b) = 0.178, cov = -0.082, chi-square 4.131
    const line = weightedLine({
      x: [1, 2, 3, 4, 5, 6],
      y: [3.2, 4.3, 7.6, 8.6, 11.7, 12.8],
      y_standard_uncertainty: [0.5, 0.5, 0.5, 1, 1, 1],
    });
    near(line.intercept.value, 0.885, 0.0005);
    near(line.slope.value, 2.057, 0.0005);
    near(line.intercept.standard_uncertainty, 0.53, 0.0005);
    near(line.slope.standard_uncertainty, 0.178, 0.0005);
    near(line.covariance, -0.082, 0.0005);
    near(line.chi_square, 4.131, 0.0005);
  });

  test('clause 7: uncertainties of x and y', () => {
    // Printed: a = 0.5788, b = 2.1597, u(a) = 0.4764, u(b) = 0.1355, cov = -0.0577, chi-square 2.743
    // The manual cuts the slope to 2.159; its last digit is from memory.
    const line = yorkLine({
      x: [1.2, 1.9, 2.9, 4.0, 4.7, 5.9],
      y: [3.4, 4.4, 7.2, 8.5, 10.8, 13.5],
      x_standard_uncertainty: [0.2, 0.2, 0.2, 0.2, 0.2, 0.2],
      y_standard_uncertainty: [0.2, 0.2, 0.2, 0.4, 0.4, 0.4],
    });
    near(line.intercept.value, 0.5788, 0.00005);
    near(line.slope.value, 2.1597, 0.00005);
    near(line.intercept.standard_uncertainty, 0.4764, 0.00005);
    near(line.slope.standard_uncertainty, 0.1355, 0.00005);
    near(line.covariance, -0.0577, 0.00005);
    near(line.chi_square, 2.743, 0.0005);
  });
});
