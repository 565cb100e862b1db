/**
 * Thirteen trials of a vaccine: Colditz and others 1994, JAMA 271, 698. Counts: treated positive and
 * negative, control positive and negative.
 */
import { expect, test } from 'vitest';
import { coverageFactor } from '../../src/statistics/distributions.js';
import { randomEffects } from '../../src/statistics/randomEffects.js';
import { near } from '../agree/near.js';
import { core } from '../statistics/core.js';

const TABLES = [
  [4, 119, 11, 128],
  [6, 300, 29, 274],
  [3, 228, 11, 209],
  [62, 13536, 248, 12619],
  [33, 5036, 47, 5761],
  [180, 1361, 372, 1079],
  [8, 2537, 10, 619],
  [505, 87886, 499, 87892],
  [29, 7470, 45, 7232],
  [17, 1699, 65, 1600],
  [186, 50448, 141, 27197],
  [5, 2493, 3, 2338],
  [27, 16886, 29, 17825],
] as const;

const trials = TABLES.map(([a, b, c, d]) => ({
  value: Math.log(a / (a + b) / (c / (c + d))),
  standardUncertainty: Math.sqrt(1 / a - 1 / (a + b) + 1 / c - 1 / (c + d)),
}));

test('DerSimonian and Laird: mean, standard error, variance and heterogeneity are as published', () => {
  // Published: -0.7141, 0.1787, 0.3088, Q = 152.233, I² = 92.12 %; half a unit. Read in the tests
  // of R's metafor, which quote another program; the standard error in a second transcription.
  const found = randomEffects(trials, { method: 'dersimonian-laird' });
  near(found.mean, -0.7141, 5e-5);
  near(found.standardError, 0.1787, 5e-5);
  near(found.betweenVariance, 0.3088, 5e-5);
  near(found.q, 152.233, 5e-4);
  near(100 * found.iSquared, 92.12, 5e-3);
  // R 4.2.2: p = 2.0e-26, below what 1 − CDF resolves
  expect(found.p).toBeLessThan(1e-12);
  expect(found.p).toBeGreaterThanOrEqual(0);
});

test.each([
  ['dl', 'dersimonian-laird'],
  ['pm', 'paule-mandel'],
] as const)('%s: variance, mean and the Hartung–Knapp interval are those of R', (name, method) => {
  const [between, mean, classical, hartungKnapp, low, high] = core(`bcg.${name}`);
  const found = randomEffects(trials, { method });
  near(found.betweenVariance, between!, 1e-9);
  near(found.mean, mean!, 1e-9);
  near(found.standardError, classical!, 1e-9);
  near(found.hartungKnappPlain, hartungKnapp!, 1e-9);
  const half = coverageFactor(0.95, 12) * found.hartungKnappPlain;
  near(found.mean - half, low!, 1e-8);
  near(found.mean + half, high!, 1e-8);
});

test('Paule and Mandel’s standard error and Hartung and Knapp’s are one number', () => {
  // At τ² > 0 the weighted squares equal m − 1 by definition, and the correction is 1.
  const found = randomEffects(trials);
  near(found.hartungKnapp / found.standardError, 1, 1e-9);
});
