import { describe, expect, test } from 'vitest';
import { symmetricDistribution } from '../../src/budget/symmetricDistribution.js';
import { normalCdf } from '../../src/statistics/distributions.js';
import { near } from '../near.js';

const refused = expect.objectContaining({ code: 'argument-wrong' });

describe('Laplace in units of 3: Q(x) = ½·e^(−x/3), quantile of p < ½ is 3·ln 2p', () => {
  // A scale that is much too small or too large only makes the search longer.
  test.each([Math.SQRT2, 0.01, 100])('with a scale of %f', (scale) => {
    const of = symmetricDistribution((x) => Math.exp(-x) / 2, scale, 3, true);
    for (const p of [1e-9, 0.025, 0.4, 0.499]) {
      const x = 3 * Math.log(2 * p);
      near(of.quantile(p) / x, 1, 1e-9);
      near(of.quantile(1 - p) / -x, 1, 1e-6);
      near(of.cdf(x), p, 1e-15);
      near(of.cdf(-x), 1 - p, 1e-15);
    }
    expect([of.quantile(0.5), of.cdf(0)]).toEqual([0, 0.5]);
    const [low, high] = of.coverageInterval(0.9);
    near(low, 3 * Math.log(0.1), 1e-8);
    expect(high).toBe(-low);
    expect(of.shortestInterval(0.9)).toEqual([low, high]);
  });
});

test('what a tail is off by never makes a probability outside of 0 to ½ to 1', () => {
  const of = symmetricDistribution((x) => (x < 1 ? 0.5 + 1e-9 : -1e-9), 1, 1, true);
  expect([0.5, 1, -0.5, -1].map(of.cdf)).toEqual([0.5, 1, 0.5, 0]);
});

test('nothing uncertain: a step at zero', () => {
  const of = symmetricDistribution(null, 0, 0, false);
  expect([-1e-300, 0, 1].map(of.cdf)).toEqual([0, 1, 1]);
  expect([of.coverageInterval(0.9), of.shortestInterval(0.9)]).toEqual([
    [0, 0],
    [0, 0],
  ]);
});

describe('two humps, ½·N(−2, 0.3²) + ½·N(2, 0.3²)', () => {
  const tail = (x: number) => (normalCdf((2 - x) / 0.3) + normalCdf((-2 - x) / 0.3)) / 2;
  const of = symmetricDistribution(tail, 2, 1, false);

  test.each([
    // Of the lower hump the middle part 2p, which leaves out (1 − 2p)/2 on either side; R: qnorm(0.9)
    // and qnorm(0.75).
    [0.4, 1.2815515655446004],
    [0.25, 0.6744897501960817],
  ])('the shortest interval of %f stands on the lower hump', (confidence, z) => {
    const [low, high] = of.shortestInterval(confidence);
    near(high - low, 0.6 * z, 1e-9);
    near(low, -2 - 0.3 * z, 1e-4);
    near(high, -2 + 0.3 * z, 1e-4);
  });

  test('above a half it reaches over both', () => {
    // With b left out below, the lower end has Φ(z) = 2b and the upper the same beside the other hump: as
    // wide as can be seen with what is left out shared.
    const [low, high] = of.shortestInterval(0.95);
    const [even] = of.coverageInterval(0.95);
    near(low, even, 1e-3);
    near(high, -even, 1e-3);
    near(even, -2 - 0.3 * 1.6448536269514722, 1e-8);
  });

  test.each([0, 1, 95, Number.NaN])('refuses a confidence of %f', (confidence) => {
    expect(() => of.shortestInterval(confidence)).toThrow(refused);
    expect(() => of.coverageInterval(confidence)).toThrow(refused);
  });
});

test('a shortest interval at the very end leaves out a billionth, not nothing', () => {
  // Cauchy from 0 on, mirrored: half of it lies below 0, and its lower end at nothing would be −∞. Density
  // highest at ± 1: Q(x) = ½·(1 − (2/π)·atan(x²))
  const tail = (x: number) => 0.5 - Math.atan(x * x) / Math.PI;
  const [low, high] = symmetricDistribution(tail, 1, 1, false).shortestInterval(0.999_999_999_5);
  expect(Number.isFinite(low) && Number.isFinite(high)).toBe(true);
  // Q(x) ≈ 1/(π x²) = 10⁻⁹ for both ends
  near(low * Math.sqrt(Math.PI * 1e-9), -1, 1e-3);
  near(high * Math.sqrt(Math.PI * 1e-9), 1, 1e-3);
});
