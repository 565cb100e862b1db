import { expect, test } from 'vitest';
import { found, sources } from './equivalenceRatio.cases.js';
import { holds } from './holds.js';

holds(sources);

test('two one-sided tests of a ratio decide as printed', () => {
  // Printed: p < .0001 for the upper test
  expect(found().p_high).toBeLessThan(1e-4);
  expect(found().decision).toBe('equivalent');
  // Schuirmann 1987: two tests at 5 % are the 90 % interval, not the 95 % one
  expect(found().confidence).toBe(0.9);
  expect(found().why).toContain('The 90 % interval of the mean');
});
