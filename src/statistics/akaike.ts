/**
 * Corrected Akaike criterion of a least-squares fit (Hurvich and Tsai 1989): smaller is better.
 * The noise variance counts as one more coefficient.
 *
 * @returns Infinity where n is too small for the correction: such a fit must not be chosen
 */
export function correctedAkaike(fit: {
  readonly residualSumOfSquares: number;
  readonly n: number;
  readonly p: number;
}): number {
  const k = fit.p + 1;
  if (fit.n - k - 1 <= 0) return Number.POSITIVE_INFINITY;
  const variance = Math.max(fit.residualSumOfSquares / fit.n, Number.MIN_VALUE);
  return fit.n * Math.log(variance) + 2 * k + (2 * k * (k + 1)) / (fit.n - k - 1);
}
