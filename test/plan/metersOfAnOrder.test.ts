import { expect, test } from 'vitest';
import { runOrder } from '../../src/plan/runOrder.js';
import type { RunOrder } from '../../src/vocabulary.js';

const letters = (order: RunOrder, laps: number) =>
  runOrder(order, laps)
    .map((meter) => (meter === 'reference' ? 'A' : 'B'))
    .join('');

test('each order is what its name spells, repeated', () => {
  expect(letters('reference-first', 3)).toBe('ABABAB');
  expect(letters('candidate-first', 3)).toBe('BABABA');
  expect(letters('ABBA', 3)).toBe('ABBAAB');
  expect(letters('ABBA-BAAB', 6)).toBe('ABBABAABABBA');
});

test('no laps, half a lap and endless laps are refused', () => {
  for (const laps of [0, -1, 1.5, Number.NaN, Number.POSITIVE_INFINITY]) {
    expect(() => runOrder('ABBA', laps)).toThrowError(/whole number/);
  }
});
