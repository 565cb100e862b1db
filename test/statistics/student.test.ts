import { expect, test } from 'vitest';
import { autocorrelation } from '../../src/statistics/autocorrelation.js';
import { standardDeviationInterval } from '../../src/statistics/standardDeviationInterval.js';
import { oneSampleStudent, twoSampleStudent, twoSidedP } from '../../src/statistics/student.js';
import { standardDeviation } from '../../src/statistics/summary.js';
import { near } from '../near.js';

test('two-sided p far out in the tail agrees with R', () => {
  // R 4.2.2, test/fixtures/agree.txt, line t.tail; relative tolerance 1e-6
  near(twoSidedP(12.6205912887, 326) / 5.2729354577e-30, 1, 1e-6);
  near(twoSidedP(-25, 9) / 1.2589450379e-9, 1, 1e-6);
  near(twoSidedP(6, 2.5) / 0.0152817298855, 1, 1e-6);
});

test('no scatter gives an interval of no width and no t', () => {
  expect(oneSampleStudent([3, 3, 3])).toMatchObject({ t: null, p: null, low: 3, high: 3 });
  expect(twoSampleStudent([3, 3], [1, 1])).toMatchObject({ t: null, p: null, estimate: 2, dof: 2 });
});

test('one value is too few', () => {
  expect(() => oneSampleStudent([3])).toThrow(/at least 2/);
  expect(() => twoSampleStudent([3, 4], [1])).toThrow(/at least 2/);
});

test('equal sizes and variances make Welch and pooled the same', () => {
  const first = [1, 2, 3, 4];
  const second = [5, 6, 7, 8];
  const welch = twoSampleStudent(first, second);
  const pooled = twoSampleStudent(first, second, { variances: 'pooled' });
  near(welch.dof, pooled.dof, 1e-12);
  near(welch.t, pooled.t ?? Number.NaN, 1e-12);
});

test('the interval of a standard deviation contains it and grows with confidence', () => {
  const [low, high] = standardDeviationInterval(2, 9);
  const [lower, higher] = standardDeviationInterval(2, 9, { confidence: 0.99 });
  expect([lower, low, 2, high, higher]).toEqual(
    [lower, low, 2, high, higher].sort((a, b) => a - b),
  );
  expect(() => standardDeviationInterval(-1, 9)).toThrow(/0 or above/);
});

test('the standard deviation of equal values is 0 and never NaN', () => {
  for (let n = 2; n < 200; n++) {
    for (const value of [0.1, 1 / 3, 1e-9, 123456.789]) {
      const sd = standardDeviation(new Array<number>(n).fill(value));
      expect(sd).toBeLessThanOrEqual(1e-15 * value);
    }
  }
});

test('autocorrelation: 1 at lag 0, negative for alternation, null without scatter', () => {
  expect(autocorrelation([1, 2, 1, 2], { lag: 0 })).toBe(1);
  expect(autocorrelation([1, 2, 1, 2])).toBe(-0.75);
  expect(autocorrelation([5, 5, 5])).toBeNull();
  expect(() => autocorrelation([1, 2])).toThrow(/at least 3/);
  expect(() => autocorrelation([1, 2, 3], { lag: 0.5 })).toThrow(/whole number/);
});
