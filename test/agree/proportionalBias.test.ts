import { describe, expect, test } from 'vitest';
import { limitsAtLevel } from '../../src/agree/limitsAtLevel.js';
import { pitmanMorgan } from '../../src/agree/pitmanMorgan.js';
import { proportionalBias } from '../../src/agree/proportionalBias.js';
import { seededRandom } from '../../src/statistics/random.js';
import { near } from '../near.js';
import { PEAK_FLOW } from '../peakFlow.js';

// Expected: R 4.2.2, test/fixtures/agree.txt.
// Intervals and p carry the accuracy of the borrowed t distribution, about 2e-8 relative.

describe('difference against level', () => {
  test('both lines agree with R', () => {
    const { bias, spread } = proportionalBias(PEAK_FLOW);
    near(bias.intercept, 15.0674973, 1e-7);
    near(bias.slope, -0.0286874451525, 1e-12);
    near(bias.slope_interval[0], -0.216694953989, 1e-9);
    near(bias.slope_interval[1], 0.159320063684, 1e-9);
    near(bias.slope_p, 0.749498533649, 1e-8);
    near(bias.residual_sd, 39.8960341828, 1e-9);
    near(spread.intercept, 67.7181355045, 1e-8);
    near(spread.slope, -0.0855265360178, 1e-11);
    near(spread.slope_interval[0], -0.194170727413, 1e-9);
    near(spread.slope_p, 0.114071307932, 1e-8);
  });

  test('the log scale agrees with R', () => {
    const { bias } = proportionalBias(PEAK_FLOW, { scale: 'log' });
    near(bias.intercept, 0.929573684181, 1e-10);
    near(bias.slope, -0.151020486411, 1e-11);
    near(bias.slope_interval[1], 0.0735051915266, 5e-9);
    near(bias.slope_p, 0.172186325079, 1e-8);
  });

  test('limits at a level: bias and its interval agree with R, spread by √(π/2)', () => {
    const lines = proportionalBias(PEAK_FLOW);
    const at = limitsAtLevel(lines, 400, { spread: 'linear' });
    near(at.bias, 3.59251923902, 1e-9);
    near(at.bias_interval[0], -19.1844771478, 1e-6);
    near(at.bias_interval[1], 26.3695156259, 1e-6);
    near(at.sd, Math.sqrt(Math.PI / 2) * (67.7181355045 - 0.0855265360178 * 400), 1e-8);
    expect(limitsAtLevel(lines, 400)).toMatchObject({ spread: 'constant', outside: false });
    expect(limitsAtLevel(lines, 900, { spread: 'linear' })).toMatchObject({
      low: null,
      outside: true,
    });
  });

  test('a gain of 10 % and noise in proportion to power are found', () => {
    const random = seededRandom(31);
    const power = Array.from({ length: 400 }, (_, i) => 10 + i);
    const lines = proportionalBias({
      reference: power.map((value) => value * (1 + 0.02 * random.normal())),
      candidate: power.map((value) => value * (1.1 + 0.02 * random.normal())),
    });
    // Slope of (1.1 − 1)x against (1.1 + 1)x/2
    near(lines.bias.slope, 0.1 / 1.05, 0.01);
    expect(lines.spread.slope_p!).toBeLessThan(1e-6);
    const at = limitsAtLevel(lines, 200);
    expect(at.spread).toBe('linear');
    // sd of the difference at level 200: noise 0.02·√2 of the power 190
    near(at.sd! / (0.02 * Math.SQRT2 * 190), 1, 0.12);
  });

  test('awkward input', () => {
    const few = { reference: [1, 2, 3], candidate: [1, 2, 3] };
    expect(() => proportionalBias(few)).toThrow(/at least 4 pairs/);
    expect(() => proportionalBias({ reference: [1, 2], candidate: [1] })).toThrow(/same number/);
    const level = { reference: [5, 5, 5, 5], candidate: [5, 5, 5, 5] };
    expect(() => proportionalBias(level)).toThrow(/tell the coefficients/);
    const zero = { reference: [0, 1, 2, 3], candidate: [1, 2, 3, 4] };
    expect(() => proportionalBias(zero, { scale: 'log' })).toThrow(/above 0/);
    const exact = proportionalBias({ reference: [1, 2, 3, 4], candidate: [2, 4, 6, 8] });
    near(exact.bias.slope, 2 / 3, 1e-12);
  });
});

describe('equal spread of both meters', () => {
  test('t and p agree with R, and p is that of the slope', () => {
    // cor.test(a + b, b - a)
    const found = pitmanMorgan(PEAK_FLOW);
    near(found.t, -0.325230850151, 1e-10);
    near(found.p, 0.749498533649, 1e-8);
    near(found.ratio, 0.972509121336, 1e-11);
    near(found.p, proportionalBias(PEAK_FLOW).bias.slope_p!, 1e-9);
  });

  test('unequal noise alone makes a slope: no sign of a proportional bias', () => {
    const random = seededRandom(8);
    const power = Array.from({ length: 200 }, () => 100 + 5 * random.normal());
    const noisy = {
      reference: power,
      candidate: power.map((value) => value + 5 * random.normal()),
    };
    expect(proportionalBias(noisy).bias.slope_p!).toBeLessThan(0.001);
  });

  test('the interval of the ratio covers in 95 % of samples', () => {
    const random = seededRandom(77);
    let covered = 0;
    for (let i = 0; i < 4000; i++) {
      const shared = Array.from({ length: 8 }, () => random.normal());
      const sample = {
        reference: shared.map((value) => value + random.normal()),
        candidate: shared.map((value) => 3 * (value + random.normal())),
      };
      const { low, high } = pitmanMorgan(sample);
      if (low! <= 3 && 3 <= high!) covered++;
    }
    // Binomial standard error 0.34 %; four of them
    near(covered / 4000, 0.95, 0.0138);
  });

  test('no scatter and exact lines give null with a reason', () => {
    expect(pitmanMorgan({ reference: [1, 1, 1], candidate: [1, 2, 3] })).toMatchObject({
      ratio: null,
      p: null,
    });
    expect(pitmanMorgan({ reference: [1, 2, 3], candidate: [2, 4, 6] }).why).toMatch(/exactly/);
  });
});
