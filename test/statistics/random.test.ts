import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/statistics/random.js';
import { near, nearly } from '../near.js';
import { errorOf } from '../record/support.js';

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

interface Case {
  readonly seed: number;
  readonly uniform: readonly number[];
  readonly normal: readonly number[];
  readonly student: readonly number[];
  readonly chi_square: readonly number[];
  readonly sum_of_600: number;
}
const cases: Case[] = JSON.parse(
  readFileSync(new URL('../fixtures/random.json', import.meta.url), 'utf8'),
);

// test/fixtures/random.py: the published algorithms on 64-bit numbers
it.each(cases)('seed $seed draws what the published algorithms draw', (one) => {
  const random = seededRandom(one.seed);
  const draw = (dofs: readonly number[], by: (dof: number) => number) =>
    dofs.flatMap((dof) => Array.from({ length: 8 }, () => by(dof)));
  expect(Array.from({ length: 3 }, random.uniform)).toEqual(one.uniform);
  const normals = Array.from({ length: 3 }, random.normal);
  const students = draw([0.7, 9], random.student);
  const chiSquares = draw([1, 6.5], random.chiSquare);
  normals.forEach((value, i) => {
    near(value, one.normal[i]!, 1e-14);
  });
  // Logarithms and powers of two machines differ in their last digits.
  students.forEach((value, i) => {
    nearly(value, one.student[i]!, 1e-11);
  });
  chiSquares.forEach((value, i) => {
    nearly(value, one.chi_square[i]!, 1e-11);
  });
  let sum = 0;
  for (let i = 0; i < 600; i++) sum += random.chiSquare(2);
  nearly(sum, one.sum_of_600, 1e-11);
});

it('draws whole numbers evenly, both ends included', () => {
  const random = seededRandom(3);
  const counts = [0, 0, 0, 0];
  for (let i = 0; i < 4000; i++) counts[random.integer(2, 5) - 2]!++;
  // Five standard deviations of a share of 1/4: 5·√(4000·3/16) = 137
  for (const count of counts) near(count, 1000, 137);
  expect(counts.reduce((sum, count) => sum + count)).toBe(4000);
});

it('gives neighbours on both sides of zero streams of their own', () => {
  const firsts = [-3, -2, -1, 0, 1, 2].map((seed) => seededRandom(seed).uniform());
  expect(new Set(firsts).size).toBe(6);
});

it.each([Number.NaN, Number.POSITIVE_INFINITY, 2 ** 53])('refuses the seed %d', (seed) => {
  expect(errorOf(() => seededRandom(seed)).code).toBe('argument-wrong');
});
