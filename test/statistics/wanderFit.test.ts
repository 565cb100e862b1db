import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/statistics/random.js';
import { type Group, twoGroupFit } from '../../src/statistics/twoGroupFit.js';
import { wanderFit, wanderRatio } from '../../src/statistics/wanderFit.js';
import { near } from '../near.js';

// Annual flow of the Nile at Aswan 1871 to 1970, 10⁸ m³: R's data set `Nile` (datasets), after
// Durbin and Koopman 2001, Time Series Analysis by State Space Methods.
// Rscript -e 'cat(Nile, sep = ", ")'
const NILE = [
  1120, 1160, 963, 1210, 1160, 1160, 813, 1230, 1370, 1140, 995, 935, 1110, 994, 1020, 960, 1180,
  799, 958, 1140, 1100, 1210, 1150, 1250, 1260, 1220, 1030, 1100, 774, 840, 874, 694, 940, 833, 701,
  916, 692, 1020, 1050, 969, 831, 726, 456, 824, 702, 1120, 1100, 832, 764, 821, 768, 845, 864, 862,
  698, 845, 744, 796, 1040, 759, 781, 865, 845, 944, 984, 897, 822, 1010, 771, 676, 649, 846, 812,
  742, 801, 1040, 860, 874, 848, 890, 744, 749, 838, 1050, 918, 986, 797, 923, 975, 815, 1020, 906,
  901, 1170, 912, 746, 919, 718, 714, 740,
];
const alternate = (n: number): Group[] => Array.from({ length: n }, (_, i) => (i % 2) as Group);
const level = (n: number) => Array.from({ length: n }, () => [1]);
const years = NILE.map((_, i) => i);

describe('the local level model of the Nile (Durbin and Koopman 2001, section 2.10)', () => {
  // Published: variance of the observations 15 099, of the walk 1 469.1; q = 0.0973. The same by
  // Rscript -e 'print(StructTS(Nile, "level")$coef)'    1469.147 15098.577
  test('the walk is seen, with the nearest ratio of the grid', () => {
    expect(wanderRatio(level(100), NILE, years)).toBe(0.1);
  });

  test('at the published ratio the variance of the observations is the published one', () => {
    const fit = wanderFit(level(100), NILE, alternate(100), years, 1469.147 / 15098.577);
    near(fit.residualSumOfSquares / 99, 15098.577, 0.05);
  });

  test('the unit of time is of no account', () => {
    const days = years.map((year) => 365.25 * year + 17);
    const one = wanderFit(level(100), NILE, alternate(100), years, 0.1);
    const other = wanderFit(level(100), NILE, alternate(100), days, 0.1);
    near(other.coefficients[0]!, one.coefficients[0]!, 1e-8);
    expect(wanderRatio(level(100), NILE, days)).toBe(0.1);
  });
});

describe('generalised least squares', () => {
  const WEIGHTS = [
    [
      0.506295351162, 0.32950129854, 0.0457597517655, 0.090193174871, 0.0803055265892,
      -0.0520551029271,
    ],
    [
      -0.277873704247, 0.420960514405, -0.372224530109, 0.280526675565, 0.29851281003,
      -0.349901765644,
    ],
  ];
  const COEFFICIENTS = [1.17010150936, 0.381251383555];
  const design = [
    [1, -0.5],
    [1, 0.5],
    [1, -0.5],
    [1, 0.5],
    [1, 0.5],
    [1, -0.5],
  ];
  const times = [0, 1, 2, 3.5, 4, 5];
  const y = [1, 1.3, 0.9, 1.6, 1.4, 1.2];
  const groups: Group[] = [0, 1, 0, 1, 1, 0];

  test('coefficients and weights are (X’V⁻¹X)⁻¹X’V⁻¹ (NumPy, whole matrices)', () => {
    // python3 -c "import numpy as np; t=np.array([0,1,2,3.5,4,5.]); V=np.eye(6)+.7*np.minimum.outer(t,t);
    //   X=np.c_[np.ones(6),[-.5,.5,-.5,.5,.5,-.5]]; P=np.linalg.inv(V); W=np.linalg.solve(X.T@P@X,X.T@P);
    //   print(W); print(W@[1,1.3,.9,1.6,1.4,1.2])"
    const fit = wanderFit(design, y, groups, times, 0.7);
    WEIGHTS.forEach((row, j) => {
      row.forEach((weight, i) => {
        near(fit.weights[j]![i]!, weight, 1e-8);
      });
    });
    COEFFICIENTS.forEach((value, j) => {
      near(fit.coefficients[j]!, value, 1e-8);
    });
    fit.fitted.forEach((value, i) => {
      near(value, fit.coefficients[0]! + design[i]![1]! * fit.coefficients[1]!, 1e-12);
    });
  });

  test('without a walk it is the plain fit', () => {
    const plain = twoGroupFit(design, y, groups);
    const fit = wanderFit(design, y, groups, times, 0);
    near(fit.coefficients[1]!, plain.coefficients[1]!, 1e-12);
    const one = plain.uncertaintyOf(plain.weights[1]!);
    const other = fit.uncertaintyOf(fit.weights[1]!);
    near(other.standardUncertainty, one.standardUncertainty, 1e-12);
    near(other.dof, one.dof, 1e-9);
  });

  test('a contrast given as weights on the observations has the uncertainty of its coefficient', () => {
    // On the decorrelated scale the contrast has variance Σ(L'w)²; with one variance for both
    // groups that is w'Vw, here computed from V itself.
    const fit = wanderFit(design, y, groups, times, 0.7);
    const w = fit.weights[1]!;
    const quadratic = w.reduce(
      (sum, a, i) =>
        sum +
        w.reduce(
          (inner, b, j) =>
            inner + a * b * ((i === j ? 1 : 0) + 0.7 * Math.min(times[i]!, times[j]!)),
          0,
        ),
      0,
    );
    const { standardUncertainty: u } = fit.uncertaintyOf(w);
    const between = fit.variances.map((variance) => Math.sqrt(variance * quadratic));
    expect(u).toBeGreaterThanOrEqual(Math.min(...between) - 1e-12);
    expect(u).toBeLessThanOrEqual(Math.max(...between) + 1e-12);
  });
});

test('independent noise is seldom taken for a walk, a walk mostly seen', () => {
  const random = seededRandom(5);
  const n = 30;
  const times = Array.from({ length: n }, (_, i) => i);
  const design = times.map((t, i) => [1, (i % 2) - 0.5, t / n]);
  let alarms = 0;
  let seen = 0;
  for (let i = 0; i < 200; i++) {
    const noise = times.map(() => random.normal());
    if (wanderRatio(design, noise, times) > 0) alarms++;
    let walk = 0;
    const walking = noise.map((value) => {
      walk += 1.5 * random.normal();
      return value + walk;
    });
    if (wanderRatio(design, walking, times) > 0) seen++;
  }
  // At the edge of the parameter −2 ln of the ratio is, for large n, ½χ²₀ + ½χ²₁: P(> 4) = 2.3 %
  // (Self and Liang 1987, J. Am. Stat. Assoc. 82, 605).
  expect(alarms).toBeLessThan(14);
  expect(seen).toBeGreaterThan(150);
});

test('what the design can describe changes nothing about the walk', () => {
  const random = seededRandom(8);
  const times = Array.from({ length: 40 }, (_, i) => 40 * i);
  const design = times.map((t, i) => [1, (i % 2) - 0.5, t / 1600]);
  let walk = 0;
  const y = times.map(() => {
    walk += random.normal();
    return walk + 0.3 * random.normal();
  });
  const ratio = wanderRatio(design, y, times);
  expect(ratio).toBeGreaterThan(0);
  fc.assert(
    fc.property(
      fc.double({ min: -50, max: 50, noNaN: true }),
      fc.double({ min: -9, max: 9, noNaN: true }),
      fc.double({ min: 0.1, max: 10, noNaN: true }),
      (slope, step, unit) => {
        const other = y.map(
          (value, i) => unit * value + slope * design[i]![2]! + step * design[i]![1]!,
        );
        expect(wanderRatio(design, other, times)).toBe(ratio);
      },
    ),
    { seed: 3, numRuns: 25 },
  );
});

test('observations without any scatter show no walk', () => {
  const times = [0, 1, 2, 3, 4, 5, 6, 7];
  const design = times.map((t, i) => [1, (i % 2) - 0.5, t]);
  expect(
    wanderRatio(
      design,
      times.map((t, i) => 3 + (i % 2) + 0.1 * t),
      times,
    ),
  ).toBe(0);
});

interface Walk {
  readonly design: readonly (readonly number[])[];
  readonly y: readonly number[];
  readonly times: readonly number[];
  readonly ratio: number;
  readonly gain: number;
}
const { walks }: { readonly walks: readonly Walk[] } = JSON.parse(
  readFileSync(new URL('../fixtures/twoGroups.json', import.meta.url), 'utf8'),
);

// test/fixtures/twoGroups.py: the criterion from whole covariances in NumPy; observations in no order of time
test.each(walks)('a gain of $gain: the ratio $ratio', ({ design, y, times, ratio }) => {
  expect(wanderRatio(design, y, times)).toBe(ratio);
});

test('residuals are what is new in each, and the order of the rows is of no account', () => {
  // Two at one moment, one an interval later, with level 0 known: V = I + λ·min(t, t') has L = [[1], [0, 1],
  // [0, 0, √(1 + λ)]] before the level; by hand for λ = 3 and times 0, 0, 2 (unit 1): P = 0, 0, 6.
  const design = [[0], [0], [0], [1]];
  const fit = wanderFit(design, [1, 2, 14, 5], [0, 1, 0, 1], [0, 0, 3, 3], 3);
  // Unit (3 − 0)/3 = 1; the walk at 3 has the variance 9: 14/√10, and the fourth fits by its own column.
  [1, 2, 14 / Math.sqrt(10), 0].forEach((value, i) => {
    near(fit.residuals[i], value, 1e-12);
  });
  // Given the third the walk is at 9/10 of it: 5 − 12.6
  near(fit.coefficients[0], 5 - 12.6, 1e-12);
  near(fit.fitted[3], 5 - 12.6, 1e-12);
  const turned = wanderFit(design.toReversed(), [5, 14, 2, 1], [1, 0, 1, 0], [3, 3, 0, 0], 3);
  // The one that stands first of a moment is taken first.
  near(turned.coefficients[0], 5 - 12.6, 1e-12);
});

test('the uncertainty of any contrast is that of the decorrelated observations', () => {
  // L' by hand for λ = 3 at times 0, 1, 2: V = [[1, 0, 0], [0, 4, 3], [0, 3, 7]], L = [[1], [0, 2],
  // [0, 1.5, √4.75]]; so L'c of c = (1, 2, 4) is (1, 2·2 + 1.5·4, 4·√4.75) = (1, 10, 4√4.75).
  const design = [[1], [1], [1]];
  const y = [1, 2, 5];
  const fit = wanderFit(design, y, [0, 0, 0], [0, 1, 2], 3);
  const squares = 1 + 100 + 16 * 4.75;
  const { standardUncertainty, dof } = fit.uncertaintyOf([1, 2, 4]);
  near(standardUncertainty, Math.sqrt((squares * fit.residualSumOfSquares) / 2), 1e-12);
  expect(dof).toBe(2);
});

test('at one moment there is no walk', () => {
  const design = [[1], [1], [1]];
  const fit = wanderFit(design, [1, 2, 6], [0, 1, 0], [5, 5, 5], 3);
  near(fit.coefficients[0], 3, 1e-12);
  expect(wanderRatio(design, [1, 2, 6], [5, 5, 5])).toBe(0);
});
