import { expect, test } from 'vitest';
import { standardDeviation } from '../../src/statistics/summary.js';
import { near } from '../near.js';
import { holds } from './holds.js';
import { y1 } from './nistHandbookIntervals.cases.js';
import { cars, sources } from './welchTwoSample.cases.js';

holds(sources);

test('a group variance is that of its values alone', () => {
  near(Math.sqrt(cars().fit.variances[0]), standardDeviation(y1), 1e-10);
  expect(cars().fit.n - cars().fit.p).toBe(326);
});
