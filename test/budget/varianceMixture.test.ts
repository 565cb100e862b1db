import { describe, expect, test } from 'vitest';
import { mixtureTail, varianceMixture } from '../../src/budget/varianceMixture.js';
import { normalCdf } from '../../src/statistics/distributions.js';
import { near } from '../near.js';

const mean = (
  { weights, sds }: ReturnType<typeof varianceMixture>,
  of: (variance: number) => number,
) => weights.reduce((sum, weight, i) => sum + weight * of(sds[i] ** 2), 0);
const rises = ({ sds }: ReturnType<typeof varianceMixture>) =>
  sds.every((sd, i) => i === 0 || sd > sds[i - 1]);

describe('a mixture of normals', () => {
  test('without Student parts is the normal one', () => {
    expect(varianceMixture(3, [])).toEqual({
      weights: [1],
      sds: [3],
    });
  });

  test.each([1, 1.5, 4, 30, 200])('of one t with ν = %f has the moments of ν/χ²', (dof) => {
    // 1/V = χ²/(u²ν) has the mean 1/u² and the mean square (1 + 2/ν)/u⁴; u = 2.
    const found = varianceMixture(0, [{ scale: 2, dof }]);
    near(
      mean(found, () => 1),
      1,
      1e-12,
    );
    near(
      mean(found, (variance) => 1 / variance),
      1 / 4,
      1e-7,
    );
    near(
      mean(found, (variance) => 1 / variance ** 2),
      (1 + 2 / dof) / 16,
      1e-6,
    );
    expect(rises(found)).toBe(true);
  });

  test('of a normal part and two of t has mean and variance of a sum', () => {
    // u²ν/χ² has the mean u²ν/(ν − 2) and the mean square u⁴ν²/((ν − 2)(ν − 4)): with ν = 42 1.05 u² and
    // 42²/(40·38) u⁴, with ν = 82 1.025 u² and 82²/(80·78) u⁴.
    const found = varianceMixture(0.5, [
      { scale: 1, dof: 42 },
      { scale: 2, dof: 82 },
    ]);
    const variance = 42 ** 2 / (40 * 38) - 1.05 ** 2 + 16 * (82 ** 2 / (80 * 78) - 1.025 ** 2);
    const expected = 0.25 + 1.05 + 4 * 1.025;
    near(
      mean(found, () => 1),
      1,
      1e-8,
    );
    near(
      mean(found, (one) => one),
      expected,
      1e-7,
    );
    near(
      mean(found, (one) => (one - expected) ** 2),
      variance,
      1e-5,
    );
    expect(rises(found)).toBe(true);
  });

  test('of three equal ones has the mean of 1/√V that their order does not change', () => {
    const parts = [
      { scale: 1, dof: 3 },
      { scale: 0.2, dof: 7 },
      { scale: 1.5, dof: 5 },
    ];
    const of = (students: typeof parts) =>
      mean(varianceMixture(0.1, students), (variance) => 1 / Math.sqrt(variance));
    near(of(parts), of([...parts].reverse()), 1e-8);
  });
});

describe('the tail of a mixture', () => {
  const of = (...parts: readonly (readonly [weight: number, sd: number])[]) =>
    mixtureTail({
      weights: parts.map(([weight]) => weight),
      sds: parts.map(([, sd]) => sd),
    });
  // Both sides of what is near, of pieces of 1/16 and of the end at 9 standard deviations
  const places = [
    0, 1e-6, 0.0199, 0.0201, 0.03, 0.0624, 0.0626, 0.31, 0.5, 1, 1.96, 3.3, 5, 7, 8.99, 9, 9.01, 50,
  ];

  test('is for one part that of the normal distribution', () => {
    for (const sd of [1, 0.2, 7]) {
      const tail = of([1, sd]);
      for (const z of places) near(tail(z * sd), normalCdf(-z), 1e-10);
    }
  });

  test('is the weighted sum for several, of which some are far out and some near', () => {
    const parts = [
      [0.2, 0.001],
      [0.1, 0.03],
      [0.4, 1],
      [0.25, 40],
      [0.05, 3000],
    ] as const;
    const tail = of(...parts);
    for (const x of [0, 1e-5, 0.001, 0.009, 0.02, 0.1, 0.28, 1, 5, 60, 200, 1e4, 1e5]) {
      const sum = parts.reduce((all, [weight, sd]) => all + weight * normalCdf(-x / sd), 0);
      near(tail(x), sum, 1e-10);
    }
  });
});
