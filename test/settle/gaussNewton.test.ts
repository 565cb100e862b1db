import { describe, expect, test } from 'vitest';
import { fitOnAll } from '../../src/settle/fitOnAll.js';
import { descend, gaussNewton } from '../../src/settle/gaussNewton.js';
import { nonlinearLeastSquares } from '../../src/settle/nonlinearLeastSquares.js';
import type { Curve } from '../../src/settle/nonlinearProblem.js';
import { profileInterval } from '../../src/settle/profileInterval.js';
import { stepResponseCurve } from '../../src/settle/stepResponseCurve.js';
import { near } from '../near.js';

const LINE: Curve = { value: ([a, b], x) => a! + b! * x, gradient: (_, x) => [1, x] };
const x = [0, 1, 2, 3];

describe('Gauss–Newton steps', () => {
  test('end at a bound that keeps them from the best fit, the other parameter fitted', () => {
    // y = 3 − x with a slope of 0 at least: its mean, 1.5, and Σ (y − 1.5)² = 5
    const falling = { x, y: [3, 2, 1, 0], curve: LINE, lower: [Number.NEGATIVE_INFINITY, 0] };
    for (const start of [
      [1, 1],
      [2, 0.5],
      [10, 10],
    ]) {
      for (const found of [
        descend({ ...falling, start }),
        nonlinearLeastSquares({ ...falling, start }),
      ]) {
        near(found.parameters[0], 1.5, 1e-9);
        expect(found.parameters[1]).toBe(0);
        near(found.residualSumOfSquares, 5, 1e-12);
      }
    }
  });

  test('leave a bound again once the others stand where they should', () => {
    const rising = { x, y: [1, 1.5, 2, 2.5], curve: LINE, lower: [Number.NEGATIVE_INFINITY, 0] };
    const { parameters } = descend({ ...rising, start: [9, 0] });
    near(parameters[0], 1, 1e-9);
    near(parameters[1], 0.5, 1e-9);
  });

  test('end where all parameters are on their bounds', () => {
    const low = { x, y: [-1, -2, -3, -4], curve: LINE, lower: [0, 0] };
    expect(descend({ ...low, start: [1, 1] }).parameters).toEqual([0, 0]);
  });

  test('that lead uphill, away from any bound, do not settle', () => {
    const uphill: Curve = { ...LINE, gradient: (_, at) => [-1, -at] };
    expect(() => descend({ x, y: [1, 3, 5, 7], curve: uphill, start: [0, 0] })).toThrow(
      expect.objectContaining({ code: 'no-convergence' }),
    );
  });
});

describe('a step response without noise', () => {
  const times = Array.from({ length: 600 }, (_, i) => 0.1 * i);
  const TRUE = [40, 5, 1.3, -0.001];
  const problem = {
    x: times,
    y: times.map((t) => stepResponseCurve.value(TRUE, t)),
    curve: stepResponseCurve,
    start: TRUE,
    fixed: [false, false, true, false],
  };

  test('is brought to all readings from a start that is all but there', () => {
    const start = { ...gaussNewton(problem), parameters: [40.01, 5.002, 1.3, -0.00101] };
    const { parameters, dof } = fitOnAll(problem, start);
    parameters.forEach((value, j) => {
      near(value / TRUE[j]!, 1, 1e-9);
    });
    expect(dof).toBe(597);
  });
});

test('at both ends of a profile interval the best fit is worse by coverage² · sd²', () => {
  const curve: Curve = {
    value: ([a, b], t) => a! * Math.exp(-t / b!),
    gradient: ([a, b], t) => [Math.exp(-t / b!), ((a! * t) / b! ** 2) * Math.exp(-t / b!)],
  };
  const problem = { x: [0, 1, 2, 4, 7], y: [10.4, 6.5, 5.4, 2.1, 1.6], curve, start: [10, 3] };
  const best = nonlinearLeastSquares(problem);
  const sd = Math.sqrt(best.residualSumOfSquares / best.dof);
  const ends = profileInterval(problem, best, { parameter: 1, sd, coverage: 3.182446 });
  const [low, high] = ends.map((end) => {
    const held = { ...problem, start: [best.parameters[0]!, end!], fixed: [false, true] };
    return Math.sqrt(
      (gaussNewton(held).residualSumOfSquares - best.residualSumOfSquares) / sd ** 2,
    );
  });
  near(low, 3.182446, 2e-5);
  near(high, 3.182446, 2e-5);
  // The curve is bent, so the interval is lopsided.
  expect(ends[1]! - best.parameters[1]!).toBeGreaterThan(1.2 * (best.parameters[1]! - ends[0]!));
});
