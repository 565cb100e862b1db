import { expect, test } from 'vitest';
import { approximateLimits } from '../../src/agree/approximateLimits.js';
import { limitsOfAgreement } from '../../src/agree/limitsOfAgreement.js';
import { differences, sources } from './blandAltman1986.cases.js';
import { holds } from './holds.js';

holds(sources);

test('the exact interval of a limit reaches further out than the approximate one', () => {
  const limits = limitsOfAgreement(differences);
  const approximate = approximateLimits(
    { n: 17, mean: limits.low! + 1.96 * 38.76512987, sd: 38.76512987 },
    { formula: '1986' },
  );
  expect(limits.low_interval[0]!).toBeLessThan(approximate.low_interval[0]!);
});
