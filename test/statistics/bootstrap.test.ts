import { expect, test } from 'vitest';
import { bootstrap } from '../../src/statistics/bootstrap.js';
import { jackknife } from '../../src/statistics/jackknife.js';
import { seededRandom } from '../../src/statistics/random.js';
import { mean, standardDeviation } from '../../src/statistics/summary.js';
import { near } from '../near.js';

const random = seededRandom(5);
const sample = Array.from({ length: 30 }, () => random.normal());

test('the jackknife of a mean is its textbook standard error, without bias', () => {
  // Efron and Tibshirani 1993, section 11.2: for the mean the jackknife gives s/√n exactly.
  const found = jackknife(sample, mean);
  near(found.standard_error, standardDeviation(sample) / Math.sqrt(30), 1e-12);
  near(found.bias, 0, 1e-12);
});

test('the same seed gives the same interval, another seed another', () => {
  const first = bootstrap(sample, mean, { seed: 3 });
  expect(bootstrap(sample, mean, { seed: 3 })).toEqual(first);
  expect(bootstrap(sample, mean, { seed: 4 }).low).not.toBe(first.low);
});

test('more confidence makes the interval wider, and scale and shift carry over', () => {
  const usual = bootstrap(sample, mean, { seed: 3 });
  const wide = bootstrap(sample, mean, { seed: 3, confidence: 0.99 });
  expect(wide.low!).toBeLessThan(usual.low!);
  expect(wide.high!).toBeGreaterThan(usual.high!);
  const moved = bootstrap(
    sample.map((value) => 2 * value + 7),
    mean,
    { seed: 3 },
  );
  near(moved.low, 2 * usual.low! + 7, 1e-9);
  near(moved.high, 2 * usual.high! + 7, 1e-9);
});

test('equal items give an interval of no width', () => {
  expect(bootstrap([4, 4, 4], mean)).toMatchObject({ low: 4, high: 4, standard_error: 0 });
});

test('a statistic that resamples cannot have gives null with a reason', () => {
  // Of three items one resample in nine is one item three times; its inverse variance is infinite.
  const found = bootstrap([1, 2, 4], (items) => 1 / standardDeviation(items));
  expect(found.low).toBeNull();
  expect(found.undefined_resamples).toBeGreaterThan(0);
  expect(found.why).toMatch(/too small/);
});

test('bad arguments are refused', () => {
  expect(() => bootstrap([1], mean)).toThrow(/at least 2/);
  expect(() => bootstrap([1, 2], mean, { resamples: 10 })).toThrow(/resamples/);
  expect(() => bootstrap([1, 2], () => Number.NaN)).toThrow(/finite/);
});
