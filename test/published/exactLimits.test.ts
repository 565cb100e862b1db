/**
 * Exact interval of a limit of agreement (Carkeet 2015; Shieh 2018): factors from R 4.2.2,
 * qt(c(.025, .975), n-1, ncp = qnorm(.975)*sqrt(n))/sqrt(n); SciPy's nct.ppf gives the same.
 */
import { test } from 'vitest';
import { exactLimitFactors } from '../../src/agree/limitsOfAgreement.js';
import { near } from '../agree/near.js';

// Ten digits printed; R's own qt with ncp is good to about 1e-9 here.
test.each([
  [10, 1.163180886, 3.800902359],
  [17, 1.315029371, 3.14827144],
  [20, 1.356484252, 3.014003091],
  [30, 1.450346164, 2.756589855],
  [50, 1.550699744, 2.535470482],
  [100, 1.659063168, 2.341870744],
])('factors for n = %d agree with R', (n, near1, far) => {
  const [low, high] = exactLimitFactors(n, { multiplier: 1.959963984540054 });
  near(low, near1, 2e-9);
  near(high, far, 2e-9);
});

// Two-sided 95 % / one-sided 97.5 % is not tabled; the one-sided 95 % tolerance factor for 95 % of a
// normal population is: Hahn and Meeker, Statistical Intervals (1991), table A.12d, and Odeh and
// Owen (1980): n = 5: 4.203, n = 10: 2.911, n = 20: 2.396, n = 50: 2.065. The last was read in a
// text that quotes the table (U.S. NRC, ML14031A495), the others are from memory; half a unit of
// the last digit. R: qt(.95, n - 1, ncp = qnorm(.95)*sqrt(n))/sqrt(n)
test.each([
  [5, 4.203],
  [10, 2.911],
  [20, 2.396],
  [50, 2.065],
])('the one-sided tolerance factor for n = %d is as tabled', (n, tabled) => {
  const [, far] = exactLimitFactors(n, { confidence: 0.9, multiplier: 1.6448536269514722 });
  near(far, tabled, 5e-4);
});
