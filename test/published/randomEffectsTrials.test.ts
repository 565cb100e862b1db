import { expect, test } from 'vitest';
import { near } from '../near.js';
import { holds } from './holds.js';
import { byDerSimonian, byPaule, sources } from './randomEffectsTrials.cases.js';

holds(sources);

test('p of the heterogeneity is below what the distribution resolves', () => {
  // R 4.2.2: p = 2.0e-26, below what 1 − CDF resolves
  expect(byDerSimonian().p).toBeLessThan(1e-12);
  expect(byDerSimonian().p).toBeGreaterThanOrEqual(0);
});

test('Paule and Mandel’s standard error and Hartung and Knapp’s are one number', () => {
  // At τ² > 0 the weighted squares equal m − 1 by definition, and the correction is 1.
  near(byPaule().hartungKnapp / byPaule().standardError, 1, 1e-9);
});
