import { normalCdf } from '../statistics/distributions.js';

/** A normal distribution about zero whose variance is itself one of a list, with weights. */
export interface VarianceMixture {
  readonly weights: readonly number[];
  /** Standard deviations that belong to the weights, ascending. */
  readonly sds: readonly number[];
}

/** Scaled Student part: scale · t with `dof`. */
export interface ScaledStudent {
  readonly scale: number;
  readonly dof: number;
}

/** Weights below this are left out; all of them together stay below 1e-8. */
const LEAST = 1e-11;
/** Step of the grid in the logarithm of the variance, and how many grid points share a weight. */
const STEP = 0.25;
const SHARING = 10;

/**
 * A normal part and scaled t parts, all independent, as one mixture of normals. t with ν is a normal
 * whose variance is ν/χ²; the variance of the sum is σ² + Σ uᵢ² νᵢ/χ²ᵢ, one number with a
 * distribution in one dimension. Each χ² enters by the trapezoidal rule in its logarithm, which
 * converges exponentially; two lists are added pairwise and brought back to a grid by sharing each
 * weight among neighbours as Lagrange interpolation does, so that smooth functions of the logarithm
 * keep their mean.
 *
 * Source: t as a mixture: Andrews and Mallows, J. R. Stat. Soc. B 36 (1974) 99. Trapezoidal rule:
 * Trefethen and Weideman, SIAM Review 56 (2014) 385.
 */
export function varianceMixture(
  sigma: number,
  students: readonly ScaledStudent[],
): VarianceMixture {
  let sum: Variances = { weights: [1], variances: [sigma * sigma] };
  for (const student of students) {
    const own = variancesOf(student);
    sum =
      sum.variances.length === 1
        ? { ...own, variances: own.variances.map((one) => one + sum.variances[0]) }
        : added(sum, own);
  }
  const order = sum.variances.map((_, i) => i).sort((a, b) => sum.variances[a] - sum.variances[b]);
  return {
    weights: order.map((i) => sum.weights[i]),
    sds: order.map((i) => Math.sqrt(sum.variances[i])),
  };
}

interface Variances {
  readonly weights: readonly number[];
  readonly variances: readonly number[];
}

/** u² ν/χ²: the logarithm w of χ²/ν has a density in proportion to exp(μ(w − eʷ)), μ = ν/2. */
function variancesOf({ scale, dof }: ScaledStudent): Variances {
  const shape = dof / 2;
  const step = Math.min(0.45, 0.8 / Math.sqrt(shape));
  const weights: number[] = [];
  const variances: number[] = [];
  const add = (k: number): boolean => {
    const w = k * step;
    // Relative to the largest density, at w = 0.
    const weight = Math.exp(shape * (w - Math.expm1(w)));
    if (weight < LEAST) return false;
    weights.push(weight);
    variances.push(scale * scale * Math.exp(-w));
    return true;
  };
  for (let k = 0; add(k); k++);
  for (let k = -1; add(k); k--);
  const total = weights.reduce((sum, one) => sum + one, 0);
  return { weights: weights.map((one) => one / total), variances };
}

function added(a: Variances, b: Variances): Variances {
  const least = Math.log(Math.min(...a.variances) + Math.min(...b.variances));
  const most = Math.log(Math.max(...a.variances) + Math.max(...b.variances));
  const from = least - (SHARING / 2) * STEP;
  const grid = new Float64Array(Math.ceil((most - least) / STEP) + SHARING + 1);
  for (let i = 0; i < a.weights.length; i++) {
    for (let j = 0; j < b.weights.length; j++) {
      const weight = a.weights[i] * b.weights[j];
      if (Math.abs(weight) < LEAST / 100) continue;
      const at = (Math.log(a.variances[i] + b.variances[j]) - from) / STEP;
      const first = Math.floor(at) - SHARING / 2 + 1;
      share(grid, first, at - first, weight);
    }
  }
  const kept = [...grid.keys()].filter((k) => Math.abs(grid[k]) > LEAST);
  return {
    weights: kept.map((k) => grid[k]),
    variances: kept.map((k) => Math.exp(from + k * STEP)),
  };
}

/** 1 / Π (k − m) over the other points m, for each of the points k. */
const denominators = Float64Array.from({ length: SHARING }, (_, k) => {
  let product = 1;
  for (let m = 0; m < SHARING; m++) if (m !== k) product *= k - m;
  return 1 / product;
});

/** Adds `weight` at the place `at` (0 to SHARING − 1) to the grid points by Lagrange's weights. */
function share(grid: Float64Array, first: number, at: number, weight: number): void {
  const nearest = Math.round(at);
  if (Math.abs(at - nearest) < 1e-9) {
    grid[first + nearest] += weight;
    return;
  }
  let product = weight;
  for (let m = 0; m < SHARING; m++) product *= at - m;
  for (let k = 0; k < SHARING; k++) grid[first + k] += (product * denominators[k]) / (at - k);
}

/** Beyond this many standard deviations the upper tail of a normal distribution is below 1e-18. */
const NORMAL_END = 9;
/** Within this part of a standard deviation three terms about the middle are exact to 4e-11. */
const NEAR = 0.02;
/** Pieces to a standard deviation, and terms to a piece: exact to 1e-13. */
const PIECES = 16;
/** Written out where the series is summed up. */
const TERMS = 7;

/**
 * Upper tail of the normal distribution about the middle of each piece, as coefficients of Taylor's
 * series; the derivatives of the density are Hermite polynomials times the density.
 */
const normalTail = Float64Array.from({ length: NORMAL_END * PIECES * TERMS }, (_, at) => {
  const [piece, term] = [Math.floor(at / TERMS), at % TERMS];
  const z = (piece + 0.5) / PIECES;
  if (term === 0) return normalCdf(-z);
  let [before, hermite, factorial] = [0, 1, 1];
  for (let n = 1; n < term; n++) {
    [before, hermite] = [hermite, z * hermite - (n - 1) * before];
    factorial *= n + 1;
  }
  const density = Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
  return ((term % 2 === 0 ? 1 : -1) * hermite * density) / factorial;
});

/** P(X > x) of the mixture for x ≥ 0, as a function to be asked often. */
export function mixtureTail({ weights, sds }: VarianceMixture): (x: number) => number {
  const count = weights.length;
  // Sums over the components from k upwards: of the weights, and of w/σ and w/σ³.
  const sums = [0, 1, 3].map((power) => {
    const sum = new Array<number>(count + 1).fill(0);
    for (let k = count - 1; k >= 0; k--) sum[k] = sum[k + 1] + weights[k] / sds[k] ** power;
    return sum;
  });
  const pieces = sds.map((sd) => PIECES / sd);
  const ends = sds.map((sd) => NORMAL_END * sd);
  const near = sds.map((sd) => NEAR * sd);
  return (x) => {
    let total = 0;
    let k = 0;
    while (k < count && x >= ends[k]) k++;
    for (; k < count && x > near[k]; k++) {
      const z = x * pieces[k];
      // Rounding may put the last z of all beyond the table.
      const piece = Math.min(z | 0, NORMAL_END * PIECES - 1);
      const beside = (z - piece - 0.5) / PIECES;
      const at = piece * TERMS;
      let sum = normalTail[at + 6] * beside + normalTail[at + 5];
      sum = (sum * beside + normalTail[at + 4]) * beside + normalTail[at + 3];
      sum = (sum * beside + normalTail[at + 2]) * beside + normalTail[at + 1];
      sum = sum * beside + normalTail[at];
      total += weights[k] * sum;
    }
    if (k === count) return total;
    const slope = (x * sums[1][k] - (x ** 3 * sums[2][k]) / 6) / Math.sqrt(2 * Math.PI);
    return total + sums[0][k] / 2 - slope;
  };
}
