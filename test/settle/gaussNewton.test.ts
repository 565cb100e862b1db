import { describe, expect, test } from 'vitest';
import { fitOnAll } from '../../src/settle/fitOnAll.js';
import { descend, gaussNewton } from '../../src/settle/gaussNewton.js';
import { nonlinearLeastSquares } from '../../src/settle/nonlinearLeastSquares.js';
import type { Curve, NonlinearProblem } from '../../src/settle/nonlinearProblem.js';
import { profileInterval } from '../../src/settle/profileInterval.js';
import { stepResponseCurve } from '../../src/settle/stepResponseCurve.js';
import { seededRandom } from '../../src/statistics/random.js';
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

  test('have the covariance of the straight line: (X′X)⁻¹ of four points', () => {
    // Σx = 6, Σx² = 14: 1/20·[14 −6; −6 4]. About y = 1, 3, 4, 8: slope 2.2, level 0.7, squares left 1.8
    const found = gaussNewton({ x, y: [1, 3, 4, 8], curve: LINE, start: [5, 5] });
    const about = (value: number) => expect.closeTo(value, 9);
    expect(found).toEqual({
      parameters: [about(0.7), about(2.2)],
      unscaledCovariance: [
        [about(0.7), about(-0.3)],
        [about(-0.3), about(0.2)],
      ],
      residuals: [0.3, 0.1, -1.1, 0.7].map(about),
      residualSumOfSquares: about(1.8),
      dof: 2,
    });
    // With the slope held at 2 the level is 1; with the level held at 1, the slope Σx(y − 1)/Σx² = 29/14
    expect(
      gaussNewton({ x, y: [1, 3, 4, 8], curve: LINE, start: [5, 2], fixed: [false, true] }),
    ).toEqual({
      parameters: [about(1), 2],
      unscaledCovariance: [
        [about(0.25), 0],
        [0, 0],
      ],
      residuals: [0, 0, -1, 1].map(about),
      residualSumOfSquares: about(2),
      dof: 3,
    });
    expect(
      gaussNewton({ x, y: [1, 3, 4, 8], curve: LINE, start: [1, 9], fixed: [true, false] }),
    ).toMatchObject({
      parameters: [1, about(29 / 14)],
      unscaledCovariance: [
        [0, 0],
        [0, about(1 / 14)],
      ],
      residualSumOfSquares: about(62 - 29 ** 2 / 14),
      dof: 3,
    });
  });

  test('with everything held, the curve as it is', () => {
    const held = { x, y: [1, 3, 4, 8], curve: LINE, start: [1, 2], fixed: [true, true] };
    expect(gaussNewton(held)).toEqual({
      parameters: [1, 2],
      unscaledCovariance: [
        [0, 0],
        [0, 0],
      ],
      residuals: [0, 0, -1, 1],
      residualSumOfSquares: 2,
      dof: 4,
    });
  });

  test('begin on the bound where the start lies below it', () => {
    const lower = [5, Number.NEGATIVE_INFINITY];
    const { parameters } = gaussNewton({ x, y: [1, 3, 4, 8], curve: LINE, start: [0, 0], lower });
    // Level held at 5: the slope is Σx(y − 5)/Σx² = (−2 − 2 + 9)/14
    expect(parameters[0]).toBe(5);
    near(parameters[1], 5 / 14, 1e-9);
  });

  test('that cannot tell two parameters apart say so', () => {
    const twice: Curve = { value: ([a, b], at) => (a! + b!) * at, gradient: (_, at) => [at, at] };
    for (const steps of [descend, gaussNewton]) {
      expect(() => steps({ x, y: [0, 1, 2, 4], curve: twice, start: [1, 1] })).toThrow(
        expect.objectContaining({ code: 'too-few-values' }),
      );
    }
    // A parameter without any effect is one of them.
    const idle: Curve = { value: ([a], at) => a! * at, gradient: (_, at) => [at, 0] };
    expect(() => descend({ x, y: [0, 1, 2, 4], curve: idle, start: [1, 1] })).toThrow(
      expect.objectContaining({ code: 'too-few-values' }),
    );
  });

  test('stop where a step promises no more than what is enough', () => {
    const problem = { x, y: [1, 3, 4, 8], curve: LINE, start: [0.7, 2.21] };
    // Off by 0.01 in the slope: Σ(0.01·x)² = 0.0014 of 1.8 are to be gained
    expect(descend(problem, 1e-3).parameters).toEqual([0.7, 2.21]);
    expect(descend(problem, 5e-4).parameters[1]).not.toBe(2.21);
  });

  test('that go too far are halved until they gain', () => {
    // From 3 the first step for arctan b = 0 goes to −9.5, which is worse.
    const arctan: Curve = {
      value: ([b]) => Math.atan(b!),
      gradient: ([b]) => [1 / (1 + b! ** 2)],
    };
    const { parameters } = descend({ x: [0], y: [0], curve: arctan, start: [3] });
    near(parameters[0], 0, 1e-9);
  });

  test('on a kink hold the parameter that makes it, and fit the others', () => {
    // b·max(0, x − k) through 0, 0, 1, 1.5, 2.5: with the kink on the reading at 1
    const kinked: Curve = {
      value: ([b, k], at) => b! * Math.max(0, at - k!),
      gradient: ([b, k], at) => (at > k! ? [at - k!, -b!] : [0, 0]),
    };
    const problem = { x: [0, 1, 2, 3, 4], y: [0, 0.2, 0.8, 2.2, 2.9], curve: kinked };
    const squaresAt = (b: number, k: number) =>
      problem.y.reduce((sum, y, i) => sum + (y - kinked.value([b, k], problem.x[i]!)) ** 2, 0);
    const { parameters, residualSumOfSquares } = descend({ ...problem, start: [1, 1], kinked: 1 });
    near(residualSumOfSquares, squaresAt(parameters[0]!, parameters[1]!), 1e-12);
    for (const [db, dk] of [
      [0.01, 0],
      [-0.01, 0],
    ]) {
      expect(squaresAt(parameters[0]! + db!, parameters[1]! + dk!)).toBeGreaterThan(
        residualSumOfSquares,
      );
    }
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

  test.each([
    ['all four', [false, false, false, false]],
    ['the onset held', [false, false, true, false]],
    ['no drift', [false, false, true, true]],
    ['the drift held beside an onset', [false, false, false, true]],
  ])('with noise: %s, as Gauss–Newton on all readings at once', (_, fixed) => {
    const random = seededRandom(9);
    const noisy = { ...problem, fixed, y: problem.y.map((value) => value + 0.2 * random.normal()) };
    const whole = gaussNewton(noisy);
    const off = whole.parameters.map((value, j) => (fixed[j] ? value : value * (1 + 3e-4)));
    const found = fitOnAll(noisy, { ...whole, parameters: off });
    found.parameters.forEach((value, j) => {
      if (fixed[j]) expect(value).toBe(whole.parameters[j]);
      else near(value / whole.parameters[j]!, 1, 1e-7);
      found.unscaledCovariance[j]!.forEach((covariance, k) => {
        const size = Math.sqrt(whole.unscaledCovariance[j]![j]! * whole.unscaledCovariance[k]![k]!);
        near(covariance, whole.unscaledCovariance[j]![k]!, 1e-6 * size);
      });
    });
    found.residuals.forEach((rest, i) => {
      near(rest, noisy.y[i]! - stepResponseCurve.value(found.parameters, times[i]!), 1e-12);
    });
    near(found.residualSumOfSquares / whole.residualSumOfSquares, 1, 1e-12);
    expect([found.dof, found.residuals.length]).toEqual([whole.dof, 600]);
  });

  test('readings before the onset count as they stand: a wild one, over which the onset goes back', () => {
    // The onset is at 1.28 s, the wild reading of 5 mW at 1.3 s, the start at 1.32 s.
    const curve = [40, 5, 1.28, -0.001];
    const wild = {
      ...problem,
      fixed: [false, false, false, false],
      y: times.map((t, i) => (i === 13 ? 5 : stepResponseCurve.value(curve, t))),
    };
    const whole = gaussNewton({ ...wild, start: curve });
    expect(whole.parameters[2]).toBeLessThan(1.3);
    const found = fitOnAll(wild, { ...whole, parameters: [40, 5, 1.32, -0.001] });
    found.parameters.forEach((value, j) => {
      near(value / whole.parameters[j]!, 1, 1e-6);
    });
  });

  test('does not cross a bound, nor move where nothing is to be gained', () => {
    const lower = [0, 5.5, 0, -1];
    const start = { ...gaussNewton(problem), parameters: [40.5, 5.6, 1.3, -0.001] };
    expect(fitOnAll({ ...problem, lower }, start).parameters[1]).toBe(5.5);
    expect(fitOnAll(problem, { ...start, parameters: TRUE }).parameters).toEqual(TRUE);
  });
});

describe('what is no problem to fit', () => {
  const problem = { x, y: [1, 3, 4, 8], curve: LINE, start: [1, 1] };
  test.each([
    ['no record', null, 'argument-wrong'],
    ['no curve', { ...problem, curve: undefined }, 'argument-wrong'],
    ['no values', { ...problem, curve: { gradient: LINE.gradient } }, 'argument-wrong'],
    ['no slopes', { ...problem, curve: { value: LINE.value } }, 'argument-wrong'],
    ['a bound that is no number', { ...problem, lower: [0, Number.NaN] }, 'argument-wrong'],
    ['bounds that are no list', { ...problem, lower: 0 }, 'argument-wrong'],
    ['held by a word', { ...problem, fixed: ['yes', 'no'] }, 'argument-wrong'],
    ['a kink that is no number', { ...problem, kinked: 'b' }, 'argument-wrong'],
    ['no rounds', { ...problem, iterations: 0 }, 'argument-wrong'],
    ['a value too few', { ...problem, y: [1, 3, 4] }, 'argument-wrong'],
    ['no x', { ...problem, x: [] }, 'too-few-values'],
    ['no y', { ...problem, y: [] }, 'too-few-values'],
    ['no start', { ...problem, start: [] }, 'too-few-values'],
    ['a hole in x', { ...problem, x: [0, 1, 2, Number.NaN] }, 'argument-wrong'],
    ['a hole in y', { ...problem, y: [0, 1, 2, Number.NaN] }, 'argument-wrong'],
    ['a start without end', { ...problem, start: [1, Number.POSITIVE_INFINITY] }, 'argument-wrong'],
  ])('%s', (_, wrong, code) => {
    expect(() => nonlinearLeastSquares(wrong as NonlinearProblem)).toThrow(
      expect.objectContaining({ code }),
    );
  });

  test('a curve that overflows, or a fault within it, does not settle', () => {
    const overflowing: Curve = { ...LINE, value: () => Number.POSITIVE_INFINITY };
    const broken: Curve = {
      ...LINE,
      value: () => {
        throw new Error('broken');
      },
    };
    for (const curve of [overflowing, broken]) {
      expect(() => nonlinearLeastSquares({ ...problem, curve })).toThrow(
        expect.objectContaining({ code: 'no-convergence' }),
      );
    }
  });

  test('a start of 0 and parameters of very unlike size are borne; what is held stays', () => {
    const [a, b] = nonlinearLeastSquares({ ...problem, start: [0, 0] }).parameters;
    near(a, 0.7, 1e-9);
    near(b, 2.2, 1e-9);
    const large = nonlinearLeastSquares({
      x,
      y: [1e9, 3e9, 4e9, 8e9],
      curve: { value: ([c, d], at) => c! * 1e9 + d! * at, gradient: (_, at) => [1e9, at] },
      start: [1, 1e9],
    }).parameters;
    near(large[0], 0.7, 1e-9);
    near(large[1], 2.2e9, 1);
    const held = nonlinearLeastSquares({ ...problem, start: [3, 1], fixed: [true, false] });
    // Σx(y − 3)/Σx² = (0 + 2 + 15)/14
    expect(held.parameters[0]).toBe(3);
    near(held.parameters[1], 17 / 14, 1e-9);
    const bounded = nonlinearLeastSquares({ ...problem, lower: [-1e9, 2.5] });
    // Slope held at 2.5: level 4 − 2.5·1.5
    near(bounded.parameters[0], 0.25, 1e-7);
    expect(bounded.parameters[1]).toBe(2.5);
  });
});

describe('profile intervals of a straight line are its own', () => {
  // The parameters of 1, 3, 4, 8 as above; with sd 0.5 and coverage 2, value ∓ 2·0.5·√0.7 or √0.2
  const problem = { x, y: [1, 3, 4, 8], curve: LINE, start: [0.7, 2.2] };
  const best = gaussNewton(problem);
  const ends = (
    parameter: number,
    changes: Partial<NonlinearProblem> = {},
    { sd = 0.5, coverage = 2 } = {},
  ) => profileInterval({ ...problem, ...changes }, best, { parameter, sd, coverage });

  test.each([
    [0, 10, 10.7, Math.sqrt(0.7)],
    [0, -10, -9.3, Math.sqrt(0.7)],
    [1, 0, 2.2, Math.sqrt(0.2)],
  ])('parameter %d, all readings raised by %d', (parameter, by, value, half) => {
    const raised = { ...problem, y: problem.y.map((one) => one + by), start: [0.7 + by, 2.2] };
    const of = (scale: { readonly sd: number; readonly coverage: number }) =>
      profileInterval(raised, gaussNewton(raised), { parameter, ...scale });
    const [low, high] = of({ sd: 0.5, coverage: 2 });
    near(low, value - half, 1e-4);
    near(high, value + half, 1e-4);
    const [wideLow, wideHigh] = of({ sd: 0.25, coverage: 6 });
    near(wideLow, value - 1.5 * half, 1e-4);
    near(wideHigh, value + 1.5 * half, 1e-4);
  });

  test('a positive value is not taken below 0: open where the interval would end there', () => {
    const [low, high] = ends(0);
    expect(low).toBeNull();
    near(high, 0.7 + Math.sqrt(0.7), 1e-4);
    // √0.7·0.8 ends at 0.0307, close above it
    near(ends(0, {}, { sd: 0.4, coverage: 2 })[0], 0.7 - 0.8 * Math.sqrt(0.7), 1e-4);
  });

  test('with the other one held they are as narrow as its data make them', () => {
    const alone = { ...problem, fixed: [true, false], start: [0.7, 2.2] };
    const [low, high] = profileInterval(alone, gaussNewton(alone), {
      parameter: 1,
      sd: 0.5,
      coverage: 2,
    });
    // Σx(y − 0.7)/Σx² = 2.2, of variance 1/14
    near(low, 2.2 - Math.sqrt(1 / 14), 1e-4);
    near(high, 2.2 + Math.sqrt(1 / 14), 1e-4);
  });

  test('of a curve that bends sharply they are found all the same', () => {
    // b + b⁹ is 2 where b is 1, and 514 where the first step of 2 leads
    const sharp: Curve = {
      value: ([b]) => b! + b! ** 9,
      gradient: ([b]) => [1 + 9 * b! ** 8],
    };
    const one = { x: [0], y: [0], curve: sharp, start: [0] };
    const [low, high] = profileInterval(one, gaussNewton(one), {
      parameter: 0,
      sd: 1,
      coverage: 2,
    });
    near(low, -1, 1e-4);
    near(high, 1, 1e-4);
  });

  test('no scatter, no width', () => {
    expect(ends(1, {}, { sd: 0 })).toEqual([best.parameters[1], best.parameters[1]]);
  });

  test('open at an end where the curve stays near the readings, or cannot be fitted', () => {
    // A step that is over before the first reading fits as well however fast it was.
    const fast: Curve = {
      value: ([a, tau], at) => a! * -Math.expm1(-at / tau!),
      gradient: ([a, tau], at) => [
        -Math.expm1(-at / tau!),
        (-a! * at * Math.exp(-at / tau!)) / tau! ** 2,
      ],
    };
    const step = { x: [1, 2, 3, 4], y: [9.9, 10.1, 9.95, 10.05], curve: fast, start: [10, 0.2] };
    const [low, high] = profileInterval(step, gaussNewton(step), {
      parameter: 1,
      sd: 0.1,
      coverage: 4.3,
    });
    expect(low).toBeNull();
    expect(high).toBeGreaterThan(0.2);
    const broken = {
      curve: {
        value: LINE.value,
        gradient: () => {
          throw new TypeError('broken');
        },
      },
    };
    expect(() => ends(1, broken)).toThrow(TypeError);
    const blind = { curve: { value: LINE.value, gradient: () => [0, 0] } };
    expect(ends(1, blind)).toEqual([null, null]);
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
