import { expect, test } from 'vitest';
import { holds } from './holds.js';
import { pooled, sources, student } from './nistHandbookIntervals.cases.js';

holds(sources);

test('degrees of freedom are as printed', () => {
  expect([student().dof, pooled().dof]).toEqual([194, 326]);
});
