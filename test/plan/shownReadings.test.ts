import { describe, expect, it } from 'vitest';
import { shownReadings, standsStill } from '../../src/plan/shownReadings.js';
import { seededRandom } from '../../src/statistics/random.js';
import { lastingRounding } from '../../src/statistics/roundedDisplay.js';

const still = (at: number, laps = 8) => Array.from({ length: laps }, () => at);

describe('a display that shows one or two numbers', () => {
  it('shows no scatter where there is none, and leaves step/√12 (JCGM 100:2008, F.2.2.1)', () => {
    const shown = shownReadings({ levels: still(12.3), sd: 0, step: 0.02 }, seededRandom(1));
    expect(shown.variance).toBe(0);
    expect(shown.error).toBeCloseTo(-0.3 * 0.02, 12);
    expect(shown.rounding).toBeCloseTo(0.02 / Math.sqrt(12), 3);
  });

  it('by hand: a power that creeps over the edge between two numbers', () => {
    // 12, 12, 12, 13 for 12.2, 12.3, 12.4, 12.5: errors −0.2, −0.3, −0.4, 0.5, their mean −0.1.
    const levels = [12.2, 12.3, 12.4, 12.5];
    const shown = shownReadings({ levels, sd: 0, step: 0.02 }, seededRandom(1));
    expect(shown.error).toBeCloseTo(-0.1 * 0.02, 12);
    expect(shown.variance).toBeCloseTo(((0.01 + 0.04 + 0.09 + 0.36) / 3) * 0.02 ** 2, 12);
    // One in four at the next number: a quarter of a step from the edge between both.
    expect(shown.rounding).toBeGreaterThanOrEqual((0.25 / Math.sqrt(3)) * 0.02 - 1e-12);
  });

  it('that shows three numbers lies at no edge, wherever their mean is', () => {
    // 11, 12, 13, 13: 12.25 on the average, a quarter from the middle
    const shown = shownReadings(
      { levels: [10.9, 12.2, 12.6, 13.4], sd: 0, step: 1 },
      seededRandom(1),
    );
    expect(shown.error).toBeCloseTo(-0.025, 12);
    expect(shown.rounding).toBeLessThan(0.1);
  });

  it('shows σ² + 1/12 − lasting² on the average over all places within a step', () => {
    const random = seededRandom(2);
    const draws = 20_000;
    const sd = 0.3;
    let sum = 0;
    for (let i = 0; i < draws; i++) {
      sum += shownReadings({ levels: still(random.uniform()), sd, step: 1 }, random).variance;
    }
    const expected = sd ** 2 + 1 / 12 - lastingRounding(sd) ** 2;
    // Variances of 0 to 0.27: known to 0.1 of their mean over √20 000, times four.
    expect(Math.abs(sum / draws - expected)).toBeLessThan(4 * 0.001);
  });

  it('is one whose step is no smaller than twice the scatter', () => {
    expect(standsStill(0.008, 1 / 30)).toBe(true);
    expect(standsStill(0.5, 1)).toBe(true);
    expect(standsStill(0.7, 1)).toBe(false);
    expect(standsStill(0.008, 0.001)).toBe(false);
  });
});
