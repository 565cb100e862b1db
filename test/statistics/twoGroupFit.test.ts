import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { coverageFactor } from '../../src/statistics/distributions.js';
import { polynomialColumns } from '../../src/statistics/polynomial.js';
import { seededRandom } from '../../src/statistics/random.js';
import { type Group, twoGroupFit } from '../../src/statistics/twoGroupFit.js';
import { near, nearly } from '../near.js';
import { errorOf } from '../record/support.js';
import { core } from './core.js';

const TIMES = [0, 44, 92, 137, 180, 229, 270, 318, 361, 402, 455, 497];
const METERS: Group[] = [0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1];
const READINGS = [46.2, 41.9, 46.0, 41.3, 45.7, 41.8, 45.6, 40.9, 45.2, 41.2, 45.1, 40.7];
const WITHOUT = (_: unknown, i: number) => i !== 1 && i !== 2;

function fitOf(degree: number, keep: (_: unknown, i: number) => boolean = () => true) {
  const times = TIMES.filter(keep);
  const groups = METERS.filter(keep);
  const drift = polynomialColumns(times, degree);
  return twoGroupFit(
    times.map((_, i) => [1, groups[i]! - 0.5, ...drift[i]!]),
    READINGS.filter(keep).map(Math.log),
    groups,
  );
}

// R 4.2.2: coefficients, pooled variance and hat values by lm; the two variances and the degrees of
// freedom from the whole n × n matrices, where the code works with p × p ones. 1e-9 relative.
describe.each([
  ['plain', 0, undefined],
  ['lap6', 1, undefined],
  ['lap6curve', 2, undefined],
  ['uneven', 2, WITHOUT],
] as const)('%s', (name, degree, keep) => {
  const fit = fitOf(degree, keep);

  test('coefficients, pooled variance and leverages are those of R', () => {
    const expected = core(`${name}.coef`);
    expect(fit.coefficients).toHaveLength(expected.length);
    fit.coefficients.forEach((value, i) => {
      near(value, expected[i]!, 1e-9);
    });
    const [pooled] = core(`${name}.pooled`);
    near(fit.residualSumOfSquares / (fit.n - fit.p) / pooled!, 1, 1e-9);
    core(`${name}.leverage`).forEach((value, i) => {
      near(fit.residualFactors[i], value, 1e-9);
    });
  });

  test('variances of the groups, standard uncertainty and dof are those of the whole matrices', () => {
    core(`${name}.variances`).forEach((value, i) => {
      near(fit.variances[i], Math.max(value, 0), 1e-9 * 1e-4);
    });
    const [u, dof] = core(`${name}.effect`);
    const found = fit.uncertaintyOf(fit.weights[1]!);
    near(found.standardUncertainty / u!, 1, 1e-9);
    near(found.dof / dof!, 1, 1e-7);
  });
});

test('without drift the fit is the least-squares one, the weights give the coefficients back', () => {
  const fit = fitOf(2);
  fit.weights.forEach((weights, j) => {
    const sum = weights.reduce((total, w, i) => total + w * Math.log(READINGS[i]!), 0);
    near(sum, fit.coefficients[j]!, 1e-12);
  });
});

test('scaling the observations by s scales u by s and leaves the degrees of freedom', () => {
  fc.assert(
    fc.property(
      fc.array(
        fc.integer({ min: -1000, max: 1000 }).map((x) => x / 1e4),
        { minLength: 10, maxLength: 10 },
      ),
      fc.integer({ min: 1, max: 1000 }),
      (noise, scale) => {
        // A line in y keeps variances away from zero for every example.
        const y = noise.map((e, i) => e + (i % 3) * 0.1 + (i % 4) * 0.05);
        const groups = y.map((_, i): Group => (i % 2 === 0 ? 0 : 1));
        const design = y.map((_, i) => [1, (i % 2) - 0.5, i / 10]);
        const one = twoGroupFit(design, y, groups);
        const other = twoGroupFit(
          design,
          y.map((value) => value * scale),
          groups,
        );
        const a = one.uncertaintyOf(one.weights[1]!);
        const b = other.uncertaintyOf(other.weights[1]!);
        near(b.standardUncertainty / scale, a.standardUncertainty, 1e-9);
        near(b.dof, a.dof, 1e-5);
        expect(a.dof).toBeGreaterThanOrEqual(1);
        expect(a.dof).toBeLessThanOrEqual(7);
      },
    ),
    { seed: 1, numRuns: 50 },
  );
});

test('observations that fit exactly give zero uncertainty and finite degrees of freedom', () => {
  const fit = twoGroupFit(
    [0, 1, 0, 1, 0, 1].map((g) => [1, g - 0.5]),
    [2, 3, 2, 3, 2, 3],
    [0, 1, 0, 1, 0, 1],
  );
  const { standardUncertainty, dof } = fit.uncertaintyOf(fit.weights[1]!);
  near(standardUncertainty, 0, 1e-12);
  expect(Number.isFinite(dof)).toBe(true);
});

test('a group of one observation takes the variance of all', () => {
  const fit = twoGroupFit(
    [
      [1, -0.5],
      [1, -0.5],
      [1, -0.5],
      [1, 0.5],
    ],
    [1, 2, 3, 5],
    [0, 0, 0, 1],
  );
  // The three alike have variance 1; the difference of means has variance 1 + 1/3, with 2 dof.
  const { standardUncertainty, dof } = fit.uncertaintyOf(fit.weights[1]!);
  near(standardUncertainty, Math.sqrt(4 / 3), 1e-12);
  near(dof, 2, 1e-12);
});

test('too few observations, or a design that cannot be solved, are refused by code', () => {
  const two = [
    [1, -0.5],
    [1, 0.5],
  ];
  expect(errorOf(() => twoGroupFit(two, [1, 2], [0, 1])).code).toBe('too-few-values');
  const same = [1, 2, 3, 4].map(() => [1, -0.5]);
  expect(errorOf(() => twoGroupFit(same, [1, 2, 3, 4], [0, 0, 0, 0])).code).toBe('too-few-values');
  expect(errorOf(() => twoGroupFit(two, [1, 2, 3], [0, 1, 0])).code).toBe('argument-wrong');
});

describe('few runs of one group among many of the other', () => {
  test.each([
    ['CRRRRRRRC', 0.005, 0.005],
    ['CRRRRRRRC', 0.01, 0.001],
    ['CRRRRRRRC', 0.001, 0.01],
    ['RCRRRRCR', 0.005, 0.005],
    ['RCRRRRCR', 0.01, 0.001],
    ['RCRRRRRRRRRC', 0.01, 0.001],
    ['RRRRRCRRRRRCRRRR', 0.001, 0.01],
  ])('%s with scatters %f and %f: never without uncertainty, and the truth held', (order, r, c) => {
    const random = seededRandom(17);
    const groups = [...order].map((letter): Group => (letter === 'R' ? 0 : 1));
    const drift = polynomialColumns(
      groups.map((_, i) => i),
      1,
    );
    const design = groups.map((group, i) => [1, group - 0.5, ...drift[i]!]);
    const studies = 1000;
    let held = 0;
    for (let study = 0; study < studies; study++) {
      const y = groups.map((group) => (group === 0 ? r : c) * random.normal());
      const fit = twoGroupFit(design, y, groups);
      const { standardUncertainty, dof } = fit.uncertaintyOf(fit.weights[1]!);
      expect(standardUncertainty).toBeGreaterThan(0);
      if (Math.abs(fit.coefficients[1]!) <= coverageFactor(0.95, dof) * standardUncertainty) held++;
    }
    expect(held / studies).toBeGreaterThan(0.9);
  });
});

interface Fit {
  readonly design: readonly (readonly number[])[];
  readonly y: readonly number[];
  readonly groups: readonly Group[];
  readonly coefficients: readonly number[];
  readonly residuals: readonly number[];
  readonly squares: number;
  readonly variances: readonly number[];
  readonly factors: readonly number[];
  readonly contrasts: readonly {
    readonly contrast: readonly number[];
    readonly u: number;
    readonly dof: number;
  }[];
}
const { fits }: { readonly fits: readonly Fit[] } = JSON.parse(
  readFileSync(new URL('../fixtures/twoGroups.json', import.meta.url), 'utf8'),
);

// test/fixtures/twoGroups.py: whole matrices in NumPy; in half of the contrasts one part is held back
describe.each(fits.map((one, i) => [i, one] as const))('made fit %i', (_, one) => {
  const fit = twoGroupFit(one.design, one.y, one.groups);
  const all = (found: readonly number[], expected: readonly number[]) => {
    expect(found).toHaveLength(expected.length);
    found.forEach((value, i) => {
      near(value, expected[i]!, 1e-11 * Math.max(1, ...expected.map(Math.abs)));
    });
  };

  test('coefficients, residuals and variances', () => {
    all(fit.coefficients, one.coefficients);
    all(fit.residuals, one.residuals);
    all(
      fit.fitted,
      one.y.map((value, i) => value - one.residuals[i]!),
    );
    all([fit.residualSumOfSquares], [one.squares]);
    all(fit.variances, one.variances);
    all(fit.residualFactors, one.factors);
    fit.weights.forEach((weights, j) => {
      all(weights, one.contrasts[j]!.contrast);
    });
    expect([fit.n, fit.p]).toEqual([one.y.length, one.coefficients.length]);
  });

  test.each(one.contrasts)('standard uncertainty $u and $dof degrees of freedom', (contrast) => {
    const { standardUncertainty, dof } = fit.uncertaintyOf(contrast.contrast);
    nearly(standardUncertainty, contrast.u, 1e-9);
    nearly(dof, contrast.dof, 1e-8);
  });
});

describe('what cannot be fitted', () => {
  const rows = (n: number) => Array.from({ length: n }, (_, i) => [1, i]);
  test.each<readonly [string, number[][], number[], Group[], string, string]>([
    ['a row too many', rows(4), [1, 2, 3], [0, 1, 0], 'argument-wrong', 'same number of rows'],
    ['a group too few', rows(3), [1, 2, 3], [0, 1], 'argument-wrong', 'same number of rows'],
    ['no column', [[], []], [1, 2], [0, 1], 'argument-wrong', 'same number of rows'],
    ['nothing', [], [], [], 'argument-wrong', 'same number of rows'],
    ['as many as coefficients', rows(2), [1, 2], [0, 1], 'too-few-values', 'more than 2 obs'],
    [
      'a column of zeros',
      [
        [1, 0],
        [1, 0],
        [1, 0],
      ],
      [1, 2, 3],
      [0, 1, 0],
      'too-few-values',
      'apart',
    ],
  ])('%s', (_, design, y, groups, code, said) => {
    const error = errorOf(() => twoGroupFit(design, y, groups));
    expect(error.code).toBe(code);
    expect(error.message).toContain(said);
  });

  test('one more observation than coefficients is enough', () => {
    // The line through (0, 0), (1, 0), (2, 3) is 1.5 x − 0.5: residuals 0.5, −1, 0.5
    const fit = twoGroupFit(rows(3), [0, 0, 3], [0, 1, 0]);
    near(fit.residualSumOfSquares, 1.5, 1e-12);
  });

  test('a group without residuals of its own: the pooled variance and all degrees of freedom', () => {
    // Group 1 has a column of its own: its row fits exactly. Group 0: mean 2, squares 2 with 2.
    const design = [1, 1, 1, 0].map((x) => [x, 1 - x]);
    const fit = twoGroupFit(design, [1, 2, 3, 9], [0, 0, 0, 1]);
    // 1²·3 + 2² for the contrast (1, 1, 1, 2)
    expect(fit.uncertaintyOf([1, 1, 1, 2])).toEqual({
      standardUncertainty: expect.closeTo(Math.sqrt(7), 12),
      dof: 2,
    });
    expect(fit.variances).toEqual([expect.closeTo(1, 12), expect.closeTo(1, 12)]);
  });
});

test.each([
  // s² = 2 of 1 and 3, 8 of 10 and 14; a mean of two has half of it
  [[0.5, 0.5, 0, 0], 1],
  [[0, 0, 0.5, 0.5], 2],
])(
  'groups that share no coefficient: of %j it is %d, with one degree of freedom',
  (contrast, u) => {
    const design = [
      [1, 0],
      [1, 0],
      [0, 1],
      [0, 1],
    ];
    const fit = twoGroupFit(design, [1, 3, 10, 14], [0, 0, 1, 1]);
    expect(fit.uncertaintyOf(contrast)).toEqual({
      standardUncertainty: expect.closeTo(u, 12),
      dof: expect.closeTo(1, 12),
    });
  },
);
