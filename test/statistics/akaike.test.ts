import { expect, test } from 'vitest';
import { correctedAkaike } from '../../src/statistics/akaike.js';
import { near } from '../near.js';
import { core } from './core.js';

test('it is R’s AIC with the small-sample term, less the constant n·(ln 2π + 1)', () => {
  // Hurvich and Tsai 1989, Biometrika 76, 297; R 4.2.2: AIC(lm) + 2k(k+1)/(n−k−1)
  core('akaike.rss').forEach((residualSumOfSquares, i) => {
    const found = correctedAkaike({ residualSumOfSquares, n: 12, p: i + 2 });
    near(found, core('akaike.aicc')[i]!, 1e-9);
  });
});

test('a fit with too many coefficients for the correction can never be chosen', () => {
  expect(correctedAkaike({ residualSumOfSquares: 1, n: 6, p: 4 })).toBe(Number.POSITIVE_INFINITY);
  expect(correctedAkaike({ residualSumOfSquares: 1, n: 7, p: 4 })).toBeLessThan(100);
});

test('a fit without residuals gives a number', () => {
  expect(Number.isFinite(correctedAkaike({ residualSumOfSquares: 0, n: 9, p: 2 }))).toBe(true);
});

test('by hand: n ln(rss/n) + 2k + 2k(k + 1)/(n − k − 1), k one more than the coefficients', () => {
  // n 10, p 2: k = 3, 10 ln 2 + 6 + 24/6
  near(correctedAkaike({ residualSumOfSquares: 20, n: 10, p: 2 }), 10 * Math.log(2) + 10, 1e-12);
  // n 5, p 2: one is left of n − k − 1
  near(correctedAkaike({ residualSumOfSquares: 5, n: 5, p: 2 }), 6 + 24, 1e-12);
  expect(correctedAkaike({ residualSumOfSquares: 5, n: 4, p: 2 })).toBe(Number.POSITIVE_INFINITY);
});
