import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/statistics/random.js';
import {
  lastingRounding,
  phaseSpread,
  scatterBeforeRounding,
} from '../../src/statistics/roundedDisplay.js';
import { near } from '../near.js';
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
