import { test } from 'vitest';
import { replicateLimits } from '../../src/agree/replicateLimits.js';
import { oneWay } from '../../src/statistics/oneWay.js';
import { near } from '../agree/near.js';

/** Montgomery, Design and Analysis of Experiments, random-effects example: four looms, four cloths. */
const looms = [
  [98, 97, 99, 96],
  [91, 90, 93, 92],
  [96, 95, 97, 95],
  [95, 96, 99, 98],
];

test('variance components of the loom data are as printed', () => {
  // Printed: mean squares 29.73 and 1.90, components 1.90 within and 6.96 between, total 8.86; half
  // a unit of the last digit. Components as a public lecture gives them on the book's
  // example 3.11, mean squares 29.729 and 1.896 in a course script; R: anova(lm(y ~ loom))
  const parts = oneWay(looms);
  near(parts.mean_square_between, 29.73, 5e-3);
  near(parts.mean_square_within, 1.9, 5e-3);
  const limits = replicateLimits(looms);
  near(limits.sd_within! ** 2, 1.9, 5e-3);
  near(limits.sd_between! ** 2, 6.96, 5e-3);
  // The printed total is the sum of the rounded components.
  near(limits.sd_total! ** 2, 8.86, 1e-2);
  near(limits.bias, 95.4375, 1e-12);
});
