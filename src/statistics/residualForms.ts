/**
 * Traces of products of M = I − QQ' and selectors of two groups, which the moments of quadratic forms
 * in residuals need. Expanded over the p×p matrices Q_g'Q_g, so the cost grows as n p², not n³.
 */

export function trace(a: readonly (readonly number[])[]): number {
  return a.reduce((sum, row, i) => sum + row[i], 0);
}

/** Trace of a product of square matrices. */
export function traceOf(matrices: readonly number[][][]): number {
  let product = matrices[0];
  for (const next of matrices.slice(1)) {
    product = product.map((row) =>
      next[0].map((_, j) => row.reduce((sum, value, k) => sum + value * next[k][j], 0)),
    );
  }
  return trace(product);
}

/**
 * Variance of Σ α_g y'M D_g M y, which is 2 tr(MAMVMAMV) for normal observations with A = Σ α_g D_g
 * and V = Σ v_g D_g: expanded over which of the four M contribute their QQ' part. Diagonal matrices
 * change places, and between two QQ' stands the p×p matrix Q'XQ.
 */
export function varianceOfForm(
  alpha: readonly number[],
  variances: readonly number[],
  s: readonly number[][][],
  size: readonly number[],
): number {
  const between = (x: readonly number[]) =>
    s[0].map((row, i) => row.map((one, j) => x[0] * one + x[1] * s[1][i][j]));
  const times = (...lists: readonly (readonly number[])[]) =>
    [0, 1].map((g) => lists.reduce((product, list) => product * list[g], 1));
  const [a, v, both] = [alpha, variances, times(alpha, variances)];
  const [A, V, AV] = [between(a), between(v), between(both)];
  const all = times(both, both);
  return (
    2 *
    (size[0] * all[0] +
      size[1] * all[1] -
      4 * trace(between(all)) +
      2 * traceOf([A, between(times(a, v, v))]) +
      2 * traceOf([V, between(times(a, a, v))]) +
      2 * traceOf([AV, AV]) -
      4 * traceOf([AV, A, V]) +
      traceOf([A, V, A, V]))
  );
}
