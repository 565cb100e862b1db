import type { SeriesResult } from '../vocabulary.js';

/** Scatter of one candidate reading, pooled over the series of a wavelength. */
export function readingScatter(series: readonly SeriesResult[]) {
  let squares = 0;
  let dof = 0;
  for (const { repeatability, used, drift } of series) {
    if (repeatability.candidate === null) continue;
    const own = Math.max(1, used.candidate - 1 - (drift.degree ?? 0) / 2);
    squares += own * repeatability.candidate ** 2;
    dof += own;
  }
  return {
    reading_relative_sd: dof > 0 ? Math.sqrt(squares / dof) : 0,
    reading_dof: Math.max(1, dof),
  };
}
