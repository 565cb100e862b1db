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

describe('small fits by hand', () => {
  const line = [0, 1, 2].map((x) => [1, x]);
  const close = (values: readonly number[]) => values.map((value) => expect.closeTo(value, 12));

  test('the line through (0, 0), (1, 0), (2, 3)', () => {
    // 1.5 x − 0.5; X'X = [[3, 3], [3, 5]], its inverse [[5, −3], [−3, 3]]/6
    expect(leastSquares(line, [0, 0, 3])).toEqual({
      coefficients: close([-0.5, 1.5]),
      unscaledCovariance: [close([5 / 6, -0.5]), close([-0.5, 0.5])],
      residuals: close([0.5, -1, 0.5]),
      residualSumOfSquares: expect.closeTo(1.5, 12),
      dof: 1,
    });
  });

  test('a weighted mean of 1 and 4: weights 1 and 3', () => {
    // 13/4, variance 1/4; residuals −9/4 and 3/4, squares 81/16 + 3·9/16
    expect(leastSquares([[1], [1]], [1, 4], [1, 3])).toEqual({
      coefficients: close([3.25]),
      unscaledCovariance: [close([0.25])],
      residuals: close([-2.25, 0.75]),
      residualSumOfSquares: expect.closeTo(108 / 16, 12),
      dof: 1,
    });
  });

  test('as many observations as coefficients fit exactly', () => {
    const fit = leastSquares(line.slice(0, 2), [5, 7]);
    expect(fit).toMatchObject({ coefficients: close([5, 2]), dof: 0 });
    near(fit.residualSumOfSquares, 0, 1e-24);
  });
});

test.each<readonly [string, number[][], number[], number[] | undefined, string, string]>([
  ['nothing', [], [], undefined, 'argument-wrong', 'same number of rows'],
  ['no column', [[], []], [1, 2], undefined, 'argument-wrong', 'same number of rows'],
  ['a row too many', [[1], [1]], [1], undefined, 'argument-wrong', 'same number of rows'],
  ['a weight too few', [[1], [1]], [1, 2], [1], 'argument-wrong', 'same number of rows'],
  ['too few', [[1, 2]], [1], undefined, 'too-few-values', 'needs at least 2 obs'],
  ['dependent', [1, 2, 3].map((x) => [x, 2 * x]), [1, 2, 3], undefined, 'too-few-values', 'apart'],
])('%s is refused', (_, design, y, weights, code, said) => {
  const error = errorOf(() => leastSquares(design, y, weights));
  expect(error.code).toBe(code);
  expect(error.message).toContain(said);
});
