/**
 * JCGM 100:2008 (GUM), table G.2; rows read in the same table of NIST TN 1297 (1994), table B.1.
 * In R: qt(1 - (1 - p)/2, dof).
 */
import { test } from 'vitest';
import { coverageFactor } from '../../src/statistics/distributions.js';
import { near } from '../agree/near.js';

// Printed to two decimals; half a unit of the last digit
test.each([
  [1, 13.97, 12.71, 63.66],
  [2, 4.53, 4.3, 9.92],
  [3, 3.31, 3.18, 5.84],
  [5, 2.65, 2.57, 4.03],
  [8, 2.37, 2.31, 3.36],
  [10, 2.28, 2.23, 3.17],
  [16, 2.17, 2.12, 2.92],
  [20, 2.13, 2.09, 2.85],
  [50, 2.05, 2.01, 2.68],
])('t for %d degrees of freedom is as printed', (dof, t9545, t95, t99) => {
  near(coverageFactor(0.9545, dof), t9545, 0.005);
  near(coverageFactor(0.95, dof), t95, 0.005);
  near(coverageFactor(0.99, dof), t99, 0.005);
});
