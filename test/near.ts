import { expect } from 'vitest';

/** Expects a number within an absolute tolerance of another. */
export function near(found: number | null | undefined, expected: number, tolerance: number): void {
  expect(found, 'a number').toBeTypeOf('number');
  expect(
    Math.abs((found ?? Number.NaN) - expected),
    `${found} against ${expected}`,
  ).toBeLessThanOrEqual(tolerance);
}

/** Expects a number within a relative tolerance of another. */
export function nearly(found: number | null | undefined, expected: number, relative: number): void {
  near(found, expected, relative * Math.abs(expected));
}
