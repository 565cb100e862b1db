/**
 * An orthonormal basis of the columns of a design, by Gram and Schmidt.
 *
 * Columns are plain arrays: a typed array as short as a series takes ten times as long to make.
 */

/** X = QR: `q` by columns, `r` upper triangular by rows. */
export interface Orthonormal {
  readonly q: readonly number[][];
  readonly r: readonly number[][];
}

/**
 * QR decomposition of a design with few columns. Each column is freed of the earlier ones twice,
 * which leaves the basis orthonormal to the last digits of a double.
 *
 * A first part of the basis is that of the first columns alone.
 *
 * @param columns of equal length, at least as long as there are columns
 * @returns a column that depends on the earlier ones shows as a tiny element on the diagonal of `r`
 * Source: Björck, Numerical Methods for Least Squares Problems (1996), 2.4.5 ("twice is enough").
 */
export function orthonormal(columns: readonly (readonly number[])[]): Orthonormal {
  const q: number[][] = [];
  const r = columns.map(() => new Array<number>(columns.length).fill(0));
  columns.forEach((column, j) => {
    const rest = [...column];
    for (let pass = 0; pass < 2; pass++) {
      for (let k = 0; k < j; k++) r[k][j] += takeOut(rest, q[k]);
    }
    const size = Math.sqrt(inner(rest, rest));
    r[j][j] = size;
    if (size > 0) for (let i = 0; i < rest.length; i++) rest[i] /= size;
    q.push(rest);
  });
  return { q, r };
}

/**
 * What each column has of its own beside the earlier ones: the diagonal of `r`. Once through, in place,
 * is enough for this (Björck, BIT 7 (1967) 1).
 */
export function ownSizes(columns: readonly number[][]): number[] {
  return columns.map((column, j) => {
    const size = Math.sqrt(inner(column, column));
    if (size === 0) return size;
    for (let i = 0; i < column.length; i++) column[i] /= size;
    for (let k = j + 1; k < columns.length; k++) takeOut(columns[k], column);
    return size;
  });
}

/** Frees `rest`, in place, of its part along a unit vector, and returns that part. */
export function takeOut(rest: number[] | Float64Array, unit: ArrayLike<number>): number {
  const part = inner(unit, rest);
  for (let i = 0; i < rest.length; i++) rest[i] -= part * unit[i];
  return part;
}

export function inner(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
}

/** What remains of each of `n` observations where it alone is not zero: 1 − leverage. */
export function ownParts(q: readonly (readonly number[])[], n: number): number[] {
  const parts = new Array<number>(n).fill(1);
  for (const unit of q) for (let i = 0; i < n; i++) parts[i] -= unit[i] * unit[i];
  return parts;
}

/** Inverse of an upper triangular matrix without zeros on its diagonal. */
export function invertUpper(r: readonly ArrayLike<number>[]): number[][] {
  const p = r.length;
  const inverse = Array.from({ length: p }, () => new Array<number>(p).fill(0));
  for (let column = 0; column < p; column++) {
    for (let row = column; row >= 0; row--) {
      let sum = row === column ? 1 : 0;
      for (let k = row + 1; k <= column; k++) sum -= r[row][k] * inverse[k][column];
      inverse[row][column] = sum / r[row][row];
    }
  }
  return inverse;
}

/** Whether one of the first `count` columns depends on the others: a diagonal element below `tolerance` times the largest. */
export function isDependent(
  { r }: Orthonormal,
  tolerance: number,
  count: number = r.length,
): boolean {
  const diagonal = r.slice(0, count).map((row, j) => row[j]);
  const largest = Math.max(...diagonal);
  return diagonal.some((size) => !(size > tolerance * largest));
}

/** The columns of a matrix given by rows. */
export function columnsOf(rows: readonly (readonly number[])[]): number[][] {
  return (rows[0] ?? []).map((_, j) => rows.map((row) => row[j]));
}
