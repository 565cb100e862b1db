import { expect, test } from 'vitest';
import { studentCdf } from '../../src/statistics/distributions.js';
import { welchHomogeneity } from '../../src/statistics/welchHomogeneity.js';
import { near } from '../agree/near.js';
import { core } from '../statistics/core.js';

const estimates = (name: string) =>
  core(`${name}.mean`).map((value, i) => ({
    value,
    standardUncertainty: core(`${name}.u`)[i]!,
    dof: core(`${name}.n`)[i]! - 1,
  }));

test('plant weights: F, its degrees of freedom and p are those that R prints', () => {
  // Dobson 1983, plant weights; R's oneway.test(weight ~ group, PlantGrowth) prints F = 5.181,
  // num df = 2.000, denom df = 17.128, p-value = 0.01739; half a unit of the last digit
  const found = welchHomogeneity(estimates('plant'));
  near(found.f, 5.181, 5e-4);
  expect(found.dof1).toBe(2);
  near(found.dof2, 17.128, 5e-4);
  near(found.p, 0.01739, 5e-6);
});

test.each(['plant', 'spray'])(
  '%s: all digits agree with R from means and uncertainties alone',
  (name) => {
    const [f, dof1, dof2, p] = core(`${name}.welch`);
    const found = welchHomogeneity(estimates(name));
    near(found.f / f!, 1, 1e-9);
    expect(found.dof1).toBe(dof1);
    near(found.dof2 / dof2!, 1, 1e-9);
    // 1 − CDF resolves about 1e-10 with the borrowed F distribution.
    near(found.p, p!, 1e-9);
  },
);

test('two means: the square of Welch’s t, with its degrees of freedom and its p', () => {
  const [t, dof] = [-1.8608134674869, 17.776473516178];
  // R 4.2.2, test/fixtures/core.txt, sleep.welch
  expect(core('sleep.welch').slice(0, 2)).toEqual([t, dof]);
  const group = (name: string) => {
    const x = core(name);
    const mean = x.reduce((sum, v) => sum + v, 0) / x.length;
    const variance = x.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (x.length - 1);
    return { value: mean, standardUncertainty: Math.sqrt(variance / x.length), dof: x.length - 1 };
  };
  const found = welchHomogeneity([group('sleep.1'), group('sleep.2')]);
  near(found.f, t * t, 1e-9);
  near(found.dof2, dof, 1e-8);
  near(found.p, 2 * studentCdf(t, dof), 1e-8);
});
