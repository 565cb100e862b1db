import { expect, test } from 'vitest';
import { limitsOfAgreement } from '../../src/agree/limitsOfAgreement.js';
import { differences, sources } from './blandAltman1986.cases.js';
import { holds } from './holds.js';

holds(sources);

test('the exact interval of the lower limit reaches further out than the printed, symmetric one', () => {
  // Printed: -114.3 to -45.1, standard error of a limit 16.3; at two standard deviations
  const [outer] = limitsOfAgreement(differences, { multiplier: 2 }).low_interval;
  expect(outer!).toBeLessThan(-114.3);
  expect(outer!).toBeGreaterThan(-114.3 - 16.3);
});
