import { describe, expect, test } from 'vitest';
import { generalisedEsd } from '../../src/statistics/generalisedEsd.js';
import { grubbs } from '../../src/statistics/grubbs.js';
import { near } from '../agree/near.js';

describe('generalised ESD, NIST/SEMATECH e-Handbook 1.3.5.17.3 (data of Rosner 1983)', () => {
  const values = [
    -0.25, 0.68, 0.94, 1.15, 1.2, 1.26, 1.26, 1.34, 1.38, 1.43, 1.49, 1.49, 1.55, 1.56, 1.58, 1.65,
    1.69, 1.7, 1.76, 1.77, 1.81, 1.91, 1.94, 1.96, 1.99, 2.06, 2.09, 2.1, 2.14, 2.15, 2.23, 2.24,
    2.26, 2.35, 2.37, 2.4, 2.47, 2.54, 2.62, 2.64, 2.9, 2.92, 2.92, 2.93, 3.21, 3.26, 3.3, 3.59,
    3.68, 4.3, 4.64, 5.34, 5.42, 6.01,
  ];
  const result = generalisedEsd(values, { most: 10 });

  // The handbook cuts its digits off instead of rounding them (3.1189 stands as 3.118): one unit of
  // the last digit.
  test.each([
    [1, 3.118, 3.158],
    [2, 2.942, 3.151],
    [3, 3.179, 3.143],
    [4, 2.81, 3.136],
    [5, 2.815, 3.128],
    [6, 2.848, 3.12],
    [7, 2.279, 3.111],
    [8, 2.31, 3.103],
    [9, 2.101, 3.094],
    [10, 2.067, 3.085],
  ])('step %i: R and λ are as printed', (step, statistic, critical) => {
    near(result.steps[step - 1]!.statistic, statistic, 1e-3);
    near(result.steps[step - 1]!.critical, critical, 1e-3);
  });

  test('three outliers, although the first two steps alone convict nobody', () => {
    expect(result.outliers.map((index) => values[index])).toEqual([6.01, 5.42, 5.34]);
  });
});

describe('Grubbs, NIST/SEMATECH e-Handbook 1.3.5.17.1 (data of Tietjen and Moore 1972)', () => {
  const values = [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57];

  test('statistic and critical value are as printed', () => {
    // Printed: G = 2.4687 (cut off; exact 2.468765), one-sided critical value 2.032 at 5 %, which
    // is the two-sided one at 10 %
    const result = grubbs(values, { alpha: 0.1 });
    near(result.statistic, 2.4687, 1e-4);
    near(result.critical, 2.032, 5e-4);
    expect(values[result.index]).toBe(245.57);
    expect(result.outlier).toBe(true);
  });

  test('the two-sided critical value is that of the tables', () => {
    // Two-sided 5 %, n = 8: 2.126 (LibreTexts, Analytical Chemistry, appendix 7); 2.13 in a table
    // after Grubbs 1969. R 4.2.2, t <- qt(1-.05/16, 6); 7/sqrt(8)*sqrt(t^2/(6+t^2)): 2.1266450872
    near(grubbs(values).critical, 2.1266450872, 1e-8);
  });
});
