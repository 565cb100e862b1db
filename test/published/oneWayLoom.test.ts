import { test } from 'vitest';
import { near } from '../near.js';
import { holds } from './holds.js';
import { limits, sources } from './oneWayLoom.cases.js';

holds(sources);

test('the bias is the mean of all cloths, 1527/16', () => {
  near(limits().bias, 95.4375, 1e-12);
});
