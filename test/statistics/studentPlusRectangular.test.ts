import { describe, expect, test } from 'vitest';
import { coverageFactor } from '../../src/statistics/distributions.js';
import { seededRandom } from '../../src/statistics/random.js';
import { studentPlusRectangular } from '../../src/statistics/studentPlusRectangular.js';
import { near } from '../near.js';
import { core } from './core.js';

const CASES = [
  [1, 5, 1, 0.95],
  [1, 3, 0.5, 0.95],
  [0.3, 8, 1, 0.95],
  [1, 20, 2, 0.9],
  [0.1, 4, 1, 0.95],
  [0.02, 6, 1, 0.95],
  [1, 1.5, 3, 0.99],
] as const;

const half = ([standardUncertainty, dof, rectangular, confidence]: readonly number[]) =>
  studentPlusRectangular({
    standardUncertainty: standardUncertainty!,
    dof: dof!,
    rectangular: rectangular!,
    confidence: confidence!,
  });

test.each(CASES.map((one, i) => [i, one] as const))(
  'case %i: the half-width is that of R’s numerical integration',
  (i, one) => {
    // R 4.2.2, integrate() and uniroot()
    near(half(one) / core('studentRect')[i]!, 1, 1e-7);
  },
);

describe('limiting cases', () => {
  test('no rectangle: Student’s t', () => {
    near(half([2, 7, 0, 0.95]), 2 * coverageFactor(0.95, 7), 1e-12);
  });

  test('no scatter: the central part of a rectangle', () => {
    near(half([0, 7, 1, 0.95]), 0.95 * Math.sqrt(3), 1e-12);
    expect(half([0, 7, 0, 0.95])).toBe(0);
  });

  test('little scatter: close to the rectangle, at any confidence', () => {
    // A rule of a few points would step from node to node here.
    for (const confidence of [0.5, 0.8, 0.9, 0.95, 0.99]) {
      near(half([1e-4, 6, 1, confidence]) / (confidence * Math.sqrt(3)), 1, 1e-3);
    }
  });

  test('one degree of freedom is the limit of a little more', () => {
    near(half([1, 1, 1, 0.95]) / half([1, 1.0001, 1, 0.95]), 1, 1e-3);
    near(half([1, 1.0000011, 1, 0.95]) / half([1, 1.0000009, 1, 0.95]), 1, 1e-5);
  });

  test('it never exceeds t·u plus the half-width of the rectangle', () => {
    for (const one of CASES) {
      expect(half(one)).toBeLessThanOrEqual(
        one[0] * coverageFactor(one[3], one[1]) + Math.sqrt(3) * one[2],
      );
    }
  });
});

test('simulated sums lie within it as often as asked', () => {
  const random = seededRandom(11);
  const h = half([1, 4, 1.5, 0.95]);
  const trials = 20_000;
  let inside = 0;
  for (let i = 0; i < trials; i++) {
    const sum = random.student(4) + 1.5 * Math.sqrt(3) * (2 * random.uniform() - 1);
    if (Math.abs(sum) <= h) inside++;
  }
  // 3.5 binomial standard errors
  near(inside / trials, 0.95, 3.5 * Math.sqrt((0.95 * 0.05) / trials));
});
