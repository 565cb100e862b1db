import { expect, test } from 'vitest';
import { sources, spatialTest } from './efronBootstrap.cases.js';
import { holds } from './holds.js';

holds(sources);

test('no resample of the spatial test is without a variance', () => {
  expect(spatialTest().undefined_resamples).toBe(0);
});
