import fc from 'fast-check';

/** Evenly spread: fc.double spreads over exponents, so that most of its numbers are tiny. */
export const uniform = (min: number, max: number) =>
  fc.integer({ min: 0, max: 1_000_000 }).map((i) => min + ((max - min) * i) / 1_000_000);
