import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/statistics/random.js';
import {
  lastingRounding,
  phaseSpread,
  scatterBeforeRounding,
  stepUncertainty,
} from '../../src/statistics/roundedDisplay.js';
import { near, nearly } from '../near.js';
import { core } from './core.js';

describe('mean error of a rounded normal reading', () => {
  test('without scatter it is the rectangular step/√12', () => {
    // JCGM 100:2008, F.2.2.1: 0.29 of a step
    near(lastingRounding(0), 0.29, 5e-3);
    near(lastingRounding(0), 1 / Math.sqrt(12), 1e-15);
  });

  test('with scatter it is what summing the normal distribution over the steps gives', () => {
    // R 4.2.2, root mean square over 2000 phases, scatter of 0.1, 0.2, 0.3 and 0.5 steps
    core('frozen').forEach((value, i) => {
      near(lastingRounding([0.1, 0.2, 0.3, 0.5][i]!), value, 1e-6);
    });
  });

  test('levels spread evenly over a step average it away', () => {
    const levels = Array.from({ length: 40 }, (_, i) => 10 + i / 40);
    const spread = phaseSpread(
      levels,
      levels.map(() => 1),
    );
    expect(lastingRounding(0, spread)).toBeLessThan(1e-3);
    const still = phaseSpread([10.3, 10.3, 10.3], [1, 1, 1]);
    near(lastingRounding(0, still), 1 / Math.sqrt(12), 1e-12);
  });
});

describe('scatter behind a rounded display', () => {
  test('it is the one whose rounded variance was observed', () => {
    // R 4.2.2, variance of the rounded reading averaged over 2000 phases
    core('roundedVariance').forEach((variance, i) => {
      near(scatterBeforeRounding(variance), [0.1, 0.2, 0.3, 0.6][i]!, 1e-5);
    });
  });

  test('none observed is none, much observed is itself less 1/12', () => {
    expect(scatterBeforeRounding(0)).toBe(0);
    expect(scatterBeforeRounding(-1)).toBe(0);
    near(scatterBeforeRounding(25) ** 2, 25 - 1 / 12, 1e-9);
  });

  test('the variance that averages out and the one that does not add up to σ² + 1/12', () => {
    const random = seededRandom(3);
    let squares = 0;
    const trials = 40_000;
    for (let i = 0; i < trials; i++) {
      const phase = random.uniform();
      squares += (Math.round(phase + 0.25 * random.normal()) - phase) ** 2;
    }
    // Standard error of the mean square is about 0.15/√trials.
    near(squares / trials, 0.25 ** 2 + 1 / 12, 4 * (0.2 / Math.sqrt(trials)));
  });
});

describe('the sum over the harmonics, term by term', () => {
  // Σ 1/(2π²k²) exp(−4π²k²σ²) s_k², what is above k = 20 with the last of both
  const share = (k: number) => 1 / (2 * Math.PI ** 2 * k ** 2);
  const only = (k: number) => Array.from({ length: 20 }, (_, i) => (i + 1 === k ? 0.6 : 0));

  test.each([1, 2, 3, 19])('harmonic %i alone', (k) => {
    nearly(lastingRounding(0, only(k)), 0.6 * Math.sqrt(share(k)), 1e-12);
    for (const scatter of [0.02, 0.1]) {
      const damped = share(k) * Math.exp(-4 * Math.PI ** 2 * k ** 2 * scatter ** 2);
      near(lastingRounding(scatter, only(k)), 0.6 * Math.sqrt(damped), 1e-9);
      near(lastingRounding(-scatter, only(k)), 0.6 * Math.sqrt(damped), 1e-9);
    }
  });

  test('the twentieth has all above it', () => {
    let above = 1 / 12;
    for (let k = 1; k < 20; k++) above -= share(k);
    near(lastingRounding(0, only(20)), 0.6 * Math.sqrt(above), 1e-12);
  });

  test('harmonics that the list leaves out keep their phase', () => {
    near(lastingRounding(0, [0]), Math.sqrt(1 / 12 - share(1)), 1e-14);
    near(lastingRounding(0, []), Math.sqrt(1 / 12), 1e-14);
    // Half a step of scatter leaves exp(−π²) of the first, 2e-17 of the second.
    near(lastingRounding(0.5), Math.sqrt(share(1) * Math.exp(-(Math.PI ** 2))), 1e-15);
    expect(lastingRounding(20)).toBeLessThan(1e-9);
  });
});

describe('how far levels keep the phase', () => {
  test.each([
    // ¾ at 0 and ¼ at a quarter of a turn: |¾ + ¼i|, |¾ − ¼|, |¾ − ¼i|, 1, and again
    [
      [0, 0.25],
      [3, 1],
      [Math.sqrt(10) / 4, 0.5, Math.sqrt(10) / 4, 1, Math.sqrt(10) / 4],
    ],
    [
      [7.5, 8],
      [2, 2],
      [0, 1, 0, 1, 0],
    ],
    // Thirds: 1 + e + e² = 0 but for every third harmonic
    [
      [0, 1 / 3, 2 / 3],
      [1, 1, 1],
      [0, 0, 1, 0, 0],
    ],
    [[0.3], [5], [1, 1, 1, 1, 1]],
  ])('levels %j with weights %j', (levels, weights, expected) => {
    const spread = phaseSpread(levels, weights);
    expect(spread).toHaveLength(20);
    expected.forEach((value, k) => {
      near(spread[k], value, 1e-13);
    });
    for (const one of spread) expect(one).toBeLessThanOrEqual(1);
  });
});

test('a step of 1 leaves 1/√12, and a step of 0 nothing', () => {
  near(stepUncertainty(1), 0.288675134594813, 1e-15);
  near(stepUncertainty(0.1), 0.0288675134594813, 1e-15);
  expect(stepUncertainty(0)).toBe(0);
});

test('the scatter before rounding and the variance after it belong together', () => {
  for (const scatter of [0.05, 0.2, 0.4, 1, 3]) {
    const variance = scatter ** 2 + 1 / 12 - lastingRounding(scatter) ** 2;
    near(scatterBeforeRounding(variance), scatter, 1e-9);
  }
  expect(scatterBeforeRounding(1e-9)).toBeGreaterThan(0);
});
