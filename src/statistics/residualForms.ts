/**
 * Traces of products of M = I − QQ' and selectors of two groups, which the moments of quadratic forms
 * in residuals need. Expanded over the p×p matrices Q_g'Q_g, so the cost grows as n p², not n³.
 */

type Matrix = readonly (readonly number[])[];

export function trace(a: Matrix): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i][i];
  return sum;
}

/** Trace of AB. */
export function traceOfProduct(a: Matrix, b: Matrix): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) {
    for (let k = 0; k < b.length; k++) sum += a[i][k] * b[k][i];
  }
  return sum;
}

function product(a: Matrix, b: Matrix): number[][] {
  return a.map((row) =>
    b.map((_, j) => {
      let sum = 0;
      for (let k = 0; k < b.length; k++) sum += row[k] * b[k][j];
      return sum;
    }),
  );
}

/**
 * Variance of Σ α_g y'M D_g M y, which is 2 tr(MAMVMAMV) for normal observations with A = Σ α_g D_g
 * and V = Σ v_g D_g: expanded over which of the four M contribute their QQ' part. Diagonal matrices
 * change places, and between two QQ' stands the p×p matrix Q'XQ.
 */
export function varianceOfForm(
  alpha: readonly number[],
  variances: readonly number[],
  s: readonly Matrix[],
  size: readonly number[],
): number {
  const between = (x: readonly number[]) =>
    s[0].map((row, i) => row.map((one, j) => x[0] * one + x[1] * s[1][i][j]));
  const times = (a: readonly number[], b: readonly number[]) => [a[0] * b[0], a[1] * b[1]];
  const [a, v, both] = [alpha, variances, times(alpha, variances)];
  const [A, V, AV] = [between(a), between(v), between(both)];
  const all = times(both, both);
  const crossed = product(A, V);
  return (
    2 *
    (size[0] * all[0] +
      size[1] * all[1] -
      4 * trace(between(all)) +
      2 * traceOfProduct(A, between(times(both, v))) +
      2 * traceOfProduct(V, between(times(both, a))) +
      2 * traceOfProduct(AV, AV) -
      4 * traceOfProduct(AV, crossed) +
      traceOfProduct(crossed, crossed))
  );
}
