/** The drift model without drift is Welch's comparison of two means. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { standardDeviation } from '../../src/statistics/summary.js';
import { type Group, twoGroupFit } from '../../src/statistics/twoGroupFit.js';
import { near } from '../agree/near.js';

function compare(first: readonly number[], second: readonly number[]) {
  const groups: Group[] = [...first.map((): Group => 0), ...second.map((): Group => 1)];
  const fit = twoGroupFit(
    groups.map((group) => [1, group - 0.5]),
    [...first, ...second],
    groups,
  );
  const { standardUncertainty, dof } = fit.uncertaintyOf(fit.weights[1]!);
  return { fit, difference: fit.coefficients[1]!, standardUncertainty, dof };
}

describe('car mileage, NIST/SEMATECH e-Handbook 1.3.5.3', () => {
  const { y1, y2 }: { y1: number[]; y2: number[] } = JSON.parse(
    readFileSync(new URL('../fixtures/nistTwoSample.json', import.meta.url), 'utf8'),
  );
  const found = compare(y1, y2);

  test('group variances and the pooled standard deviation are as printed', () => {
    // Printed: standard deviations 6.41470 and 6.10771, pooled 6.34260; half a unit of the last digit
    near(Math.sqrt(found.fit.variances[0]), 6.4147, 5e-6);
    near(Math.sqrt(found.fit.variances[1]), 6.10771, 5e-6);
    near(Math.sqrt(found.fit.residualSumOfSquares / (found.fit.n - found.fit.p)), 6.3426, 5e-6);
    near(Math.sqrt(found.fit.variances[0]), standardDeviation(y1), 1e-10);
  });

  test('the t statistic with a pooled variance is as printed', () => {
    // Printed: t = -12.62059 with 326 degrees of freedom
    const pooled = Math.sqrt(found.fit.residualSumOfSquares / (found.fit.n - found.fit.p));
    near(-found.difference / (pooled * Math.sqrt(1 / 249 + 1 / 79)), -12.62059, 5e-6);
    expect(found.fit.n - found.fit.p).toBe(326);
  });

  test('with separate variances t and its degrees of freedom are those of Welch', () => {
    // R 4.2.2, t.test(y1, y2): t = -12.9462732749, df = 136.874976673
    near(-found.difference / found.standardUncertainty, -12.9462732749, 1e-9);
    near(found.dof, 136.874976673, 1e-7);
  });
});

test('sleep data: Welch t and degrees of freedom are as in the worked example of R', () => {
  // Student 1908, Biometrika 6, 1; example of R's ?t.test prints t = -1.8608, df = 17.776
  const found = compare(
    [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0, 2],
    [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4],
  );
  near(-found.difference / found.standardUncertainty, -1.8608, 5e-5);
  near(found.dof, 17.776, 5e-4);
});
