import fc from 'fast-check';
import { expect, test } from 'vitest';
import { firstMeter, lapNumbers } from '../../src/record/laps.js';
import type { MeterRole } from '../../src/vocabulary.js';

const meters = (letters: string): MeterRole[] =>
  [...letters].map((letter) => (letter === 'A' ? 'reference' : 'candidate'));

test.each([
  ['ABAB', [1, 1, 2, 2]],
  ['ABBA', [1, 1, 2, 2]],
  ['ABA', [1, 1, null]],
  ['AABB', [null, 1, 1, null]],
  ['AAB', [null, 1, 1]],
  ['BBB', [null, null, null]],
  ['A', [null]],
  ['', []],
])('%s has the laps %j', (letters, expected) => {
  expect(lapNumbers(meters(letters))).toEqual(expected);
});

test('every lap holds one run of each meter, next to each other, numbered from 1 on', () => {
  fc.assert(
    fc.property(fc.array(fc.constantFrom<MeterRole>('reference', 'candidate')), (runs) => {
      const laps = lapNumbers(runs);
      expect(laps).toHaveLength(runs.length);
      const count = Math.max(0, ...laps.map((lap) => lap ?? 0));
      for (let lap = 1; lap <= count; lap += 1) {
        const at = laps.indexOf(lap);
        expect(laps.filter((other) => other === lap)).toHaveLength(2);
        expect(laps[at + 1]).toBe(lap);
        expect(runs[at]).not.toBe(runs[at + 1]);
      }
    }),
    { seed: 7 },
  );
});

test('no run without a lap has a free neighbour of the other meter behind it', () => {
  fc.assert(
    fc.property(fc.array(fc.constantFrom<MeterRole>('reference', 'candidate')), (runs) => {
      const laps = lapNumbers(runs);
      const missed = laps.some(
        (lap, index) => lap === null && laps[index + 1] === null && runs[index] !== runs[index + 1],
      );
      expect(missed).toBe(false);
    }),
    { seed: 7 },
  );
});

test('ABBA-BAAB repeats after four laps', () => {
  const letters = Array.from({ length: 8 }, (_, index) =>
    firstMeter('ABBA-BAAB', index + 1) === 'reference' ? 'AB' : 'BA',
  ).join('');
  expect(letters).toBe('ABBABAABABBABAAB');
});
