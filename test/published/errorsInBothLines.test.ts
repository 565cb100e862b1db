/** Pearson's points with York's weights; Sen's example. */
import { expect, test } from 'vitest';
import { passingBablokLine } from '../../src/power/lines/passingBablokLine.js';
import { theilSenLine } from '../../src/power/lines/theilSenLine.js';
import { yorkLine } from '../../src/power/lines/yorkLine.js';
import { near } from '../near.js';
import { york } from '../power/lines/fixtures.js';
import { demingFit, senPoints, sources, yorkFit } from './errorsInBothLines.cases.js';
import { holds } from './holds.js';

holds(sources);

test("York's line through ten points has eight degrees of freedom", () => {
  expect(yorkFit().chi_square_dof).toBe(8);
});

test("York's line with equal uncertainties is Deming's with a ratio of 1", () => {
  const same = yorkLine({
    ...york,
    x_standard_uncertainty: york.x.map(() => 1),
    y_standard_uncertainty: york.x.map(() => 1),
  });
  near(same.slope.value, demingFit().slope.value!, 1e-12);
});

test("Sen's example gives slope 4 and its 5th and 17th slope at 93 %", () => {
  // P. K. Sen (1968), J. Am. Stat. Assoc. 63, section 6 (data of Graybill 1961): slope 4; M1 = 5,
  // M2 = 16, so the interval runs from the 5th to the 17th of the 21 slopes with 93 % confidence.
  // Those are 15/4 and 46/11; exact confidence 1 - 2 · 174/5040 (permutations of 7 with up to 4
  // inversions). The normal approximation takes the 4th and the 18th.
  const exact = theilSenLine(senPoints, { confidence: 0.93, interval: 'exact' });
  expect(exact.slope.value).toBe(4);
  near(exact.slope.interval?.[0], 15 / 4, 1e-12);
  near(exact.slope.interval?.[1], 46 / 11, 1e-12);
  near(exact.interval_confidence, 1 - (2 * 174) / 5040, 1e-12);
  // All slopes are positive, so nothing is shifted and Passing and Bablok take the same median.
  const other = passingBablokLine(senPoints);
  expect(other.slope.value).toBe(4);
  expect(other.intercept.value).toBe(6);
});
