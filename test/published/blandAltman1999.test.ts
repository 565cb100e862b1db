/**
 * Bland and Altman, Stat. Methods Med. Res. 8 (1999) 135: systolic blood pressure of 85 subjects by
 * observer and by machine, in mmHg; figures from memory. They agree with each other in R:
 * -16.29 + c(-1, 1)*1.96*19.61; sqrt(358.493 + 2/3*(37.408 + 83.141)).
 */
import { expect, test } from 'vitest';
import { limitsFromFigures } from '../../src/agree/limitsOfAgreement.js';
import { replicatedMethodsLimitsFromFigures } from '../../src/agree/replicatedMethodsLimits.js';
import { coverageFactor } from '../../src/statistics/distributions.js';
import { near } from '../agree/near.js';

const first = { n: 85, mean: -16.29, sd: 19.61 };

test('limits from single readings are as printed in section 2.1', () => {
  // Printed: -54.7 and 22.1 mmHg; half a unit of the last digit
  const limits = limitsFromFigures(first);
  near(limits.low, -54.7, 0.05);
  near(limits.high, 22.1, 0.05);
});

test('intervals are as printed in section 2.2, where 85 pairs leave little to their symmetry', () => {
  // Printed: SE of the bias 2.13; intervals -61.9 to -47.5 and 14.9 to 29.3, symmetric. The exact ones
  // reach about 1 mmHg further out and end that much closer inside with so many pairs.
  near(first.sd / Math.sqrt(85), 2.13, 0.005);
  const { low_interval, high_interval } = limitsFromFigures(first);
  near(low_interval[0], -61.9, 1.2);
  expect(low_interval[0]!).toBeLessThan(-61.9);
  near(low_interval[1], -47.5, 1.2);
  near(high_interval[0], 14.9, 1.2);
  near(high_interval[1], 29.3, 1.2);
  // Printed: bias -20.5 to -12.1
  near(first.mean - (coverageFactor(0.95, 84) * first.sd) / Math.sqrt(85), -20.5, 0.05);
});

test('limits from three repeats by each method are as printed in section 5.1', () => {
  // Printed: mean -15.62, variance of the differences of means 358.493, within 37.408 and 83.141:
  // corrected variance 438.859, sd 20.95, limits -56.68 and 25.44; half a unit of the last digit
  const found = replicatedMethodsLimitsFromFigures({
    n: 85,
    bias: -15.62,
    variance_of_means: 358.493,
    candidate: { variance: 83.141, size: 3, dof: 170 },
    reference: { variance: 37.408, size: 3, dof: 170 },
  });
  near(found.sd_total ** 2, 438.859, 5e-4);
  near(found.sd_total, 20.95, 5e-3);
  near(found.low, -56.68, 5e-3);
  near(found.high, 25.44, 5e-3);
});
