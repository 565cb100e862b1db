import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/statistics/random.js';

describe('seededRandom', () => {
  it('gives the same numbers for the same seed and others for its neighbour', () => {
    const draw = (seed: number) => Array.from({ length: 5 }, seededRandom(seed).uniform);
    expect(draw(7)).toEqual(draw(7));
    expect(draw(7)).not.toEqual(draw(8));
  });

  it('starts every stream like any other place in it, also for small neighbouring seeds', () => {
    const firsts = Array.from({ length: 4000 }, (_, seed) => seededRandom(seed).uniform());
    const mean = firsts.reduce((sum, x) => sum + x, 0) / firsts.length;
    // Mean of n uniforms: 1/2 ± 4 standard errors of 1/sqrt(12 n).
    expect(Math.abs(mean - 0.5)).toBeLessThan(4 / Math.sqrt(12 * 4000));
    const lag = firsts.slice(1).reduce((sum, x, i) => sum + (x - 0.5) * (firsts[i] - 0.5), 0);
    expect(Math.abs((12 * lag) / 3999)).toBeLessThan(4 / Math.sqrt(3999));
  });

  it('draws normals and Student t values with the moments they must have', () => {
    const random = seededRandom(1);
    const n = 100_000;
    const normals = Array.from({ length: n }, () => random.normal());
    const square = normals.reduce((sum, x) => sum + x * x, 0) / n;
    // Var of a mean of squares of normals is 2/n.
    expect(Math.abs(square - 1)).toBeLessThan(4 * Math.sqrt(2 / n));
    const t = Array.from({ length: n }, () => random.student(10));
    // Variance ν/(ν−2) = 1.25; fourth moment 3ν²/((ν−2)(ν−4)) = 6.25.
    const variance = t.reduce((sum, x) => sum + x * x, 0) / n;
    expect(Math.abs(variance - 1.25)).toBeLessThan(4 * Math.sqrt((6.25 - 1.25 ** 2) / n));
  });

  it('refuses a seed that is not a whole number', () => {
    expect(() => seededRandom(0.5)).toThrow(/whole number/);
  });
});
