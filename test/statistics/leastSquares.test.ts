import { describe, expect, test } from 'vitest';
import { leastSquares } from '../../src/statistics/leastSquares.js';
import { near } from '../near.js';
import { errorOf } from '../record/support.js';
import { core } from './core.js';

const X = Array.from({ length: 21 }, (_, x) => x);
const powers = X.map((x) => [0, 1, 2, 3, 4, 5].map((d) => x ** d));

describe('NIST StRD linear regression, observed level (certified values exact)', () => {
  test('Wampler1: y = 1 + x + … + x⁵ gives six coefficients of 1', () => {
    // Certified coefficients 1, certified residual sum of squares 0. Raw powers up to 20⁵ lose
    // about eight of sixteen digits: 1e-7.
    const y = powers.map((row) => row.reduce((sum, value) => sum + value, 0));
    const fit = leastSquares(powers, y);
    for (const beta of fit.coefficients) near(beta, 1, 1e-7);
    expect(fit.residualSumOfSquares).toBeLessThan(1e-12);
    expect(fit.dof).toBe(15);
  });

  test('Wampler2: coefficients 1, 0.1, … 0.00001', () => {
    const certified = [1, 1e-1, 1e-2, 1e-3, 1e-4, 1e-5];
    const y = powers.map((row) => row.reduce((sum, value, j) => sum + value * certified[j]!, 0));
    leastSquares(powers, y).coefficients.forEach((beta, j) => {
      near(beta / certified[j]!, 1, 1e-7);
    });
  });
});

test('weighted fit: coefficients, residual sum of squares and covariance are those of R', () => {
  const time = [0, 44, 92, 137, 180, 229, 270, 318, 361, 402, 455, 497];
  const y = [46.2, 41.9, 46.0, 41.3, 45.7, 41.8, 45.6, 40.9, 45.2, 41.2, 45.1, 40.7].map(Math.log);
  const design = time.map((t, i) => [1, (i % 2) - 0.5, (2 * t - 497) / 497]);
  const weights = time.map((_, i) => 1 / (0.5 + (i + 1) / 4) ** 2);
  const fit = leastSquares(design, y, weights);
  core('weighted.coef').forEach((value, j) => {
    near(fit.coefficients[j], value, 1e-11);
  });
  near(fit.residualSumOfSquares / core('weighted.rss')[0]!, 1, 1e-9);
  core('weighted.unscaled').forEach((value, k) => {
    near(fit.unscaledCovariance[Math.floor(k / 3)]![k % 3], value, 1e-10);
  });
});

test('shapes that do not match and columns that depend on each other are refused by code', () => {
  const one = [[1], [1]];
  expect(errorOf(() => leastSquares(one, [1])).code).toBe('argument-wrong');
  expect(errorOf(() => leastSquares(one, [1, 2], [1])).code).toBe('argument-wrong');
  expect(errorOf(() => leastSquares([[1, 2]], [1])).code).toBe('too-few-values');
  const dependent = [1, 2, 3].map((x) => [x, 2 * x]);
  expect(errorOf(() => leastSquares(dependent, [1, 2, 3])).code).toBe('too-few-values');
});
