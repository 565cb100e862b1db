/** The small parts that others are made of, each over a table worked out by hand. */
import { describe, expect, test } from 'vitest';
import { autocorrelation } from '../../src/statistics/autocorrelation.js';
import { combineContributed } from '../../src/statistics/combineIndependent.js';
import { baseDegree } from '../../src/statistics/driftDegree.js';
import { groupedBy } from '../../src/statistics/groupedBy.js';
import { meanOfEstimates } from '../../src/statistics/meanOfEstimates.js';
import { midranks } from '../../src/statistics/ranks.js';
import { capital, sentences } from '../../src/statistics/sentences.js';
import { standardDeviationInterval } from '../../src/statistics/standardDeviationInterval.js';
import { nearly } from '../near.js';
import { errorOf } from '../record/support.js';

test('values by their key, both in the order in which they come', () => {
  const grouped = groupedBy<string | undefined, number>([
    ['b', 1],
    ['a', 2],
    ['b', 3],
    [undefined, 4],
    [undefined, 5],
  ]);
  expect([...grouped]).toEqual([
    ['b', [1, 3]],
    ['a', [2]],
    [undefined, [4, 5]],
  ]);
  expect(groupedBy([]).size).toBe(0);
});

test('sentences in a row without gaps, and a capital', () => {
  expect(sentences(['', 'One.', '', 'Two.', ''])).toBe('One. Two.');
  expect(sentences([])).toBe('');
  expect(['', 'a', 'ab cd', 'µm'].map(capital)).toEqual(['', 'A', 'Ab cd', 'Μm']);
});

test.each([
  [0, 0],
  [3, 0],
  [4, 1],
  [9, 1],
  [10, 2],
  [11, 2],
])('%i runs carry the degree %i', (runs, degree) => {
  expect(baseDegree(runs)).toBe(degree);
});

describe('the mean of estimates: s/√m, or what their own uncertainties leave', () => {
  const of = (...pairs: (readonly [number, number])[]) =>
    meanOfEstimates(pairs.map(([value, standardUncertainty]) => ({ value, standardUncertainty })));

  test.each([
    // √(0.3² + 0.4²)/2 = 0.25, less than s/√2 = √2/√2 = 1
    ['apart', [1, 0.3] as const, [3, 0.4] as const, 2, 1, true],
    ['alike', [2, 0.3] as const, [2, 0.4] as const, 2, 0.25, false],
    // √(1.2² + 1.6²)/2 = 1, as much as s/√2
    ['equal', [0, 1.2] as const, [2, 1.6] as const, 1, 1, false],
  ])('%s', (_, first, second, value, standardUncertainty, scatters) => {
    expect(of(first, second)).toEqual({ value, standardUncertainty, scatters });
  });

  test('one alone keeps its own; three divide by three', () => {
    expect(of([5, 0.2])).toEqual({ value: 5, standardUncertainty: 0.2, scatters: false });
    // s = 3, s/√3 = √3; own √(4 + 4 + 1)/3 = 1
    const three = of([0, 2], [3, 2], [6, 1]);
    expect([three.value, three.scatters]).toEqual([3, true]);
    nearly(three.standardUncertainty, Math.sqrt(3), 1e-12);
    expect(of([3, 2], [3, 2], [3, 1])).toEqual({
      value: 3,
      standardUncertainty: 1,
      scatters: false,
    });
  });
});

test.each([
  [[], 0, []],
  [[5], 0, [1]],
  [[3, 1, 2], 0, [3, 1, 2]],
  [[1, 1, 1], 0, [2, 2, 2]],
  // 1.5 lies within 1 of the smallest of its tie and 2.5 does not, although within 1 of 1.5
  [[2.5, 1, 1.5], 1, [3, 1.5, 1.5]],
  [[1, 2, 2.01], 1, [1.5, 1.5, 3]],
  [[-1, 1], 2, [1.5, 1.5]],
  [[-1, 1], 1.99, [1, 2]],
])('ranks of %j, alike within %d', (values, alike, ranks) => {
  expect(midranks(values, alike)).toEqual(ranks);
});

test('what is no number has no rank', () => {
  expect(errorOf(() => midranks([1, Number.NaN])).code).toBe('argument-wrong');
});

test('contributions combine as their relative standard uncertainties', () => {
  // 3² + 4² = 5²; 625/(81/4 + 256/8) = 11.962
  const { standardUncertainty, dof } = combineContributed([
    { relative_standard_uncertainty: 3, dof: 4 },
    { relative_standard_uncertainty: 4, dof: 8 },
  ]);
  expect(standardUncertainty).toBe(5);
  nearly(dof, 625 / (81 / 4 + 256 / 8), 1e-12);
});

test('the interval of a standard deviation of 2 with 9 degrees of freedom', () => {
  // SciPy 1.17.1: 2*np.sqrt(9/stats.chi2.ppf([.975,.025],9)), and [.95,.05]
  const expected = [
    [0.95, 1.37567041, 3.65122037],
    [0.9, 1.45869399, 3.29039515],
  ] as const;
  for (const [confidence, low, high] of expected) {
    const found = standardDeviationInterval(2, 9, { confidence });
    nearly(found[0], low, 1e-7);
    nearly(found[1], high, 1e-7);
  }
  expect(standardDeviationInterval(2, 9)).toEqual(
    standardDeviationInterval(2, 9, { confidence: 0.95 }),
  );
  expect(standardDeviationInterval(0, 9)).toEqual([0, 0]);
  const wrong = [
    () => standardDeviationInterval(-1, 9),
    () => standardDeviationInterval(1, 0),
    () => standardDeviationInterval(1, 9, { confidence: 1 }),
  ];
  for (const call of wrong) expect(errorOf(call).code).toBe('argument-wrong');
});

describe('autocorrelation', () => {
  test.each([
    // Mean 3: deviations −2, −1, 0, 1, 2, squares 10
    [[1, 2, 3, 4, 5], 1, (2 + 0 + 0 + 2) / 10],
    [[1, 2, 3, 4, 5], 2, (0 - 1 + 0) / 10],
    [[1, 2, 3, 4, 5], 3, (-2 - 2) / 10],
    // Mean 2: deviations −2, 1, 1
    [[0, 3, 3], 1, (-2 + 1) / 6],
  ])('of %j at lag %i', (values, lag, expected) => {
    nearly(autocorrelation(values, { lag }), expected, 1e-12);
  });

  test('lag 1 unless asked, and two values more than the lag at least', () => {
    expect(autocorrelation([0, 3, 3])).toBe(autocorrelation([0, 3, 3], { lag: 1 }));
    expect(autocorrelation([1, 2, 4, 4], { lag: 2 })).not.toBeNull();
    expect(errorOf(() => autocorrelation([1, 2, 4], { lag: 2 })).code).toBe('too-few-values');
    for (const lag of [-1, 0.5, Number.NaN]) {
      expect(errorOf(() => autocorrelation([1, 2, 3], { lag })).code).toBe('argument-wrong');
    }
    expect(errorOf(() => autocorrelation([1, 2, Number.NaN])).code).toBe('argument-wrong');
  });
});
