/** What page and state have to say alike. Imports nothing, so that the page can have it. */

/** Reasons of physics that a run is left out for; own words do as well (common practice, no source). */
export const REASONS: readonly string[] = [
  'clipped beam',
  'knocked head',
  'mode hop seen',
  'zero not recovered',
];

export const WHY_HIDDEN =
  'K and the difference stay hidden until the series is closed: nobody should stop when the answer pleases.';

/** A number as it is typed at the bench: no exponent, no unit, no thousands separator. */
export const TYPED_NUMBER = /^[+-]?(?:\d+[.,]?\d*|[.,]\d+)$/;
