/** Columns of a polynomial in time, as Legendre polynomials on the range of the times. */
import { extremes } from './summary.js';

/**
 * Values of the Legendre polynomials P₁ … P_degree at the given times, mapped to [−1, 1]. The
 * constant is left out. Legendre rather than powers: the columns stay well conditioned.
 *
 * @param times any unit; all equal gives columns of zeros (degree must then be 0)
 */
export function polynomialColumns(times: readonly number[], degree: number): number[][] {
  const [first, last] = extremes(times);
  return times.map((time) => polynomialRow(time, first, last, degree));
}

/** One row of `polynomialColumns` for a range of times known beforehand. */
export function polynomialRow(time: number, first: number, last: number, degree: number): number[] {
  const x = last > first ? (2 * time - first - last) / (last - first) : 0;
  const values = [1, x];
  for (let d = 2; d <= degree; d++) {
    values.push(((2 * d - 1) * x * values[d - 1] - (d - 1) * values[d - 2]) / d);
  }
  return values.slice(1, degree + 1);
}
