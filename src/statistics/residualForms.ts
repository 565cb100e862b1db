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

/** Variance of Σ α_g y'M D_g M y, which is 2 tr(BΣBΣ) for normal observations. */
export function varianceOfForm(
  alpha: readonly number[],
  variances: readonly number[],
  s: readonly number[][][],
  size: readonly number[],
): number {
  let sum = 0;
  for (const g of [0, 1]) {
    for (const a of [0, 1]) {
      for (const h of [0, 1]) {
        for (const b of [0, 1]) {
          const factor = alpha[g] * variances[a] * alpha[h] * variances[b];
          if (factor !== 0) sum += factor * cyclicTrace([g, a, h, b], s, size);
        }
      }
    }
  }
  return 2 * sum;
}

/**
 * tr(D₁ M D₂ M D₃ M D₄ M) with M = I − QQ' and D the selectors of a group: expanded over which of
 * the four M contribute their QQ' part. Between two such cuts all selectors must be of one group.
 */
function cyclicTrace(
  cycle: readonly number[],
  s: readonly number[][][],
  size: readonly number[],
): number {
  let total = 0;
  for (let mask = 0; mask < 16; mask++) {
    const cuts = [0, 1, 2, 3].filter((link) => (mask >> link) & 1);
    if (cuts.length === 0) {
      if (cycle.every((g) => g === cycle[0])) total += size[cycle[0]];
      continue;
    }
    const segments: number[][][] = [];
    let alive = true;
    for (let c = 0; c < cuts.length && alive; c++) {
      const from = cuts[c] + 1;
      const to = cuts[(c + 1) % cuts.length] + (c === cuts.length - 1 ? 4 : 0);
      const group = cycle[from % 4];
      for (let k = from; k <= to; k++) if (cycle[k % 4] !== group) alive = false;
      segments.push(s[group]);
    }
    if (alive) total += (cuts.length % 2 === 0 ? 1 : -1) * traceOf(segments);
  }
  return total;
}
