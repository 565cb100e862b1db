import fc from 'fast-check';
import { expect, test } from 'vitest';
import { laggedResponse } from '../../src/settle/laggedResponse.js';

test('what is missing after 3, 4.6, 5 and 7 time constants', () => {
  // Arithmetic of e^(−t/τ), to the digits printed: 5.0 %, 1.0 %, 0.67 %, 0.09 %.
  const missing = (times: number) =>
    100 * (1 - laggedResponse({ time_s: 3 * times, time_constant_s: 3, fall_per_s: 0 }));
  expect(missing(3)).toBeCloseTo(5.0, 1);
  expect(missing(4.6)).toBeCloseTo(1.0, 1);
  expect(missing(5)).toBeCloseTo(0.67, 2);
  expect(missing(7)).toBeCloseTo(0.09, 2);
});

test('the answer obeys τ·V′ + V = 1 − β·t', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0.1, max: 60, noNaN: true }),
      fc.double({ min: 0.2, max: 20, noNaN: true }),
      fc.double({ min: -0.01, max: 0.01, noNaN: true }),
      (time_s, time_constant_s, fall_per_s) => {
        const value = (time: number) =>
          laggedResponse({ time_s: time, time_constant_s, fall_per_s });
        const step = 1e-4;
        const slope = (value(time_s + step) - value(time_s - step)) / (2 * step);
        expect(time_constant_s * slope + value(time_s)).toBeCloseTo(1 - fall_per_s * time_s, 6);
        expect(value(0)).toBe(0);
      },
    ),
    { seed: 22, numRuns: 200 },
  );
});

test('a sensor without lag shows the source itself', () => {
  expect(laggedResponse({ time_s: 10, time_constant_s: 0, fall_per_s: 0.01 })).toBeCloseTo(0.9, 12);
});
