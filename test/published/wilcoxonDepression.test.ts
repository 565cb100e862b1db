import { expect, test } from 'vitest';
import { near } from '../near.js';
import { holds } from './holds.js';
import { found, sources } from './wilcoxonDepression.cases.js';

holds(sources);

test('p is exact, 20/512, and the interval consists of averages of the data', () => {
  expect(found().p).toBe(20 / 512);
  expect(found().method).toBe('exact');
  near(found().estimate, 0.46, 1e-12);
  near(found().low, 0.01, 1e-12);
  near(found().high, 0.786, 1e-12);
});
