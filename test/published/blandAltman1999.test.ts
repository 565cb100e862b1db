import { expect, test } from 'vitest';
import { single, sources } from './blandAltman1999.cases.js';
import { holds } from './holds.js';

holds(sources);

test('the exact interval of the lower limit reaches further out than the printed, symmetric one', () => {
  expect(single().low_interval[0]!).toBeLessThan(-61.9);
});
