/** An orthonormal basis of the columns of a design, by Gram and Schmidt. */

/** X = QR: `q` by columns, `r` upper triangular by rows. */
export interface Orthonormal {
  readonly q: readonly Float64Array[];
  readonly r: readonly Float64Array[];
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
export function orthonormal(columns: readonly ArrayLike<number>[]): Orthonormal {
  const q: Float64Array[] = [];
  const r = columns.map(() => new Float64Array(columns.length));
  columns.forEach((column, j) => {
    const rest = new Float64Array(column);
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
export function ownSizes(columns: readonly Float64Array[]): number[] {
  return columns.map((column, j) => {
    const size = Math.sqrt(inner(column, column));
    if (size === 0) return size;
    for (let i = 0; i < column.length; i++) column[i] /= size;
    for (let k = j + 1; k < columns.length; k++) takeOut(columns[k], column);
    return size;
  });
}

/** Frees `rest`, in place, of its part along a unit vector, and returns that part. */
export function takeOut(rest: Float64Array, unit: ArrayLike<number>): number {
  const part = inner(unit, rest);
  for (let i = 0; i < rest.length; i++) rest[i] -= part * unit[i];
  return part;
}

export function inner(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i] * b[i];
  return sum;
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
export function columnsOf(rows: readonly (readonly number[])[]): Float64Array[] {
  const columns = (rows[0] ?? []).map(() => new Float64Array(rows.length));
  rows.forEach((row, i) => {
    for (let j = 0; j < columns.length; j++) columns[j][i] = row[j];
  });
  return columns;
}
