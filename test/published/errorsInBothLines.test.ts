/** Pearson's points with York's weights; Sen's example. */
import { expect, test } from 'vitest';
import { demingLine } from '../../src/power/lines/demingLine.js';
import { ordinaryLine } from '../../src/power/lines/ordinaryLine.js';
import { passingBablokLine } from '../../src/power/lines/passingBablokLine.js';
import { theilSenLine } from '../../src/power/lines/theilSenLine.js';
import { yorkLine } from '../../src/power/lines/yorkLine.js';
import { york } from '../power/lines/fixtures.js';
import { near } from '../power/lines/near.js';

test("York's line through Pearson's points is as printed", () => {
  // York et al. (2004), Am. J. Phys. 72, 367, table II; more digits: M. Lybanon (1984), Am. J. Phys.
  // 52, 22. Standard uncertainties at the adjusted points, unscaled. Half a unit of the last digit.
  const line = yorkLine(york);
  near(line.intercept.value, 5.47991022, 5e-9);
  near(line.slope.value, -0.480533407, 5e-10);
  near(line.intercept.standard_uncertainty, 0.294971, 5e-7);
  near(line.slope.standard_uncertainty, 0.057985, 5e-7);
  // Printed chi-square 11.8664 and 1.4833 per degree of freedom
  near(line.chi_square, 11.8664, 0.00005);
  near((line.residual_sd ?? 0) ** 2, 1.4833, 0.00005);
  expect(line.chi_square_dof).toBe(8);
});

test("the orthogonal line of Pearson's paper is Deming's with a ratio of 1", () => {
  // K. Pearson (1901), Phil. Mag. 2, 559: y = 5.784 - 0.546 x (from memory); half a unit. The
  // tutorial of Python's kapteyn computes 5.7840437742 and -0.5455611974, but quotes 5.7857: lines.md
  // R: v <- prcomp(cbind(x, y))$rotation[, 1]; b <- v[2]/v[1]; c(mean(y) - b*mean(x), b)
  const line = demingLine(york);
  near(line.intercept.value, 5.784, 0.0005);
  near(line.slope.value, -0.546, 0.0005);
  // The same by York with equal uncertainties
  const same = yorkLine({
    ...york,
    x_standard_uncertainty: york.x.map(() => 1),
    y_standard_uncertainty: york.x.map(() => 1),
  });
  near(same.slope.value, line.slope.value, 1e-12);
});

test("the ordinary line through Pearson's points is as printed", () => {
  // Reed (1992): slope -0.539577, intercept 5.761185; half a unit of the last digit
  const line = ordinaryLine(york);
  near(line.intercept.value, 5.761185, 5e-7);
  near(line.slope.value, -0.539577, 5e-7);
});

test("Sen's example gives slope 4, its 5th and 17th slope at 93 %, and SciPy's interval", () => {
  // P. K. Sen (1968), J. Am. Stat. Assoc. 63, section 6 (data of Graybill 1961): slope 4; M1 = 5,
  // M2 = 16, so the interval runs from the 5th to the 17th of the 21 slopes with 93 % confidence.
  // Those are 15/4 and 46/11; exact confidence 1 - 2 · 174/5040 (permutations of 7 with up to 4
  // inversions). SciPy's own test of this example has 3.71 and 4.38: the normal approximation takes
  // the 4th and the 18th.
  const points = { x: [1, 2, 3, 4, 10, 12, 18], y: [9, 15, 19, 20, 45, 55, 78] };
  const exact = theilSenLine(points, { confidence: 0.93, interval: 'exact' });
  expect(exact.slope.value).toBe(4);
  near(exact.slope.interval?.[0], 15 / 4, 1e-12);
  near(exact.slope.interval?.[1], 46 / 11, 1e-12);
  near(exact.interval_confidence, 1 - (2 * 174) / 5040, 1e-12);
  const normal = theilSenLine(points, { confidence: 0.93, interval: 'normal' });
  near(normal.slope.interval?.[0], 3.71, 0.005);
  near(normal.slope.interval?.[1], 4.38, 0.005);
  // All slopes are positive, so nothing is shifted and Passing and Bablok take the same median.
  const other = passingBablokLine(points);
  expect(other.slope.value).toBe(4);
  expect(other.intercept.value).toBe(6);
});
