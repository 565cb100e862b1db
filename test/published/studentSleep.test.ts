import { expect, test } from 'vitest';
import { summariseDifferences } from '../../src/agree/summarise.js';
import { oneSampleStudent } from '../../src/statistics/student.js';
import { near } from '../agree/near.js';

/** Student, The probable error of a mean, Biometrika 6 (1908) 1: hours of sleep gained. */
const drug1 = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
const drug2 = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];
const gain = drug2.map((value, i) => value - drug1[i]);

test("paired t of Student's sleep data is as published", () => {
  // Mean 1.58 and sd 1.17 with divisor n: Student 1908. t = 4.0621, p = 0.002833 and the interval
  // 0.7001142 to 2.4598858 are printed by R's t.test example on datasets::sleep.
  const result = oneSampleStudent(gain);
  near(result.estimate, 1.58, 1e-12);
  near(result.t, 4.0621, 5e-5);
  near(result.p, 0.002833, 5e-7);
  near(result.low, 0.7001142, 5e-8);
  near(result.high, 2.4598858, 5e-8);
  expect(result.dof).toBe(9);
  const summary = summariseDifferences(gain);
  near((summary.sd ?? 0) * Math.sqrt(0.9), 1.17, 0.005);
  near(summary.low, 0.7001142, 5e-8);
});
