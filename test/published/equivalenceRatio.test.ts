import { expect, test } from 'vitest';
import { equivalenceOfRatio } from '../../src/agree/equivalence.js';
import { near } from '../agree/near.js';

/** SAS/STAT User's Guide, the TTEST procedure, example of equivalence testing with lognormal data. */
const generic = [
  103.4, 59.92, 68.17, 94.54, 69.48, 72.17, 74.37, 84.44, 96.74, 94.26, 48.52, 95.68,
];
const reference = [
  90.11, 77.71, 77.71, 97.51, 58.21, 101.3, 79.84, 96.06, 89.3, 97.22, 61.62, 85.8,
];

test('two one-sided tests of a ratio are as printed', () => {
  // Printed: ratio 0.9412, t 3.38 (p 0.0031) and -5.90 (p < .0001), overall p 0.0031, 90 % interval
  // 0.8634 to 1.0260; half a unit of the last digit
  const found = equivalenceOfRatio(
    generic.map((value, i) => value / reference[i]),
    { low: 0.8, high: 1.25 },
  );
  near(found.estimate, 0.9412, 5e-5);
  near(found.t_low, 3.38, 5e-3);
  near(found.p_low, 0.0031, 5e-5);
  near(found.t_high, -5.9, 5e-3);
  expect(found.p_high).toBeLessThan(1e-4);
  near(found.p, 0.0031, 5e-5);
  near(found.low, 0.8634, 5e-5);
  near(found.high, 1.026, 5e-5);
  expect(found.decision).toBe('equivalent');
  // Schuirmann 1987: two tests at 5 % are the 90 % interval, not the 95 % one
  expect(found.confidence).toBe(0.9);
  expect(found.why).toContain('The 90 % interval of the mean');
});
