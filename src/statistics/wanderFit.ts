/**
 * Least squares where the observations share a random walk beside their own noise: their covariance
 * is σ²(I + λ·min(tᵢ, tⱼ)), λ being the variance of the walk per mean interval of time over that of
 * one observation.
 *
 * Neighbouring observations then have more in common than distant ones, and a contrast between
 * neighbours is better known than independent noise would have it.
 */
import { columnsOf, ownSizes } from './orthonormal.js';
import { type Group, type TwoGroupFit, twoGroupFit } from './twoGroupFit.js';

/** Ratios λ that are tried; between them the interval hardly changes. */
const RATIOS = [0.05, 0.1, 0.2, 0.4, 0.8, 1.6, 3.2, 6.4];
/** How much lower −2 ln(restricted likelihood) must come out before a walk is taken for real. */
const REQUIRED_GAIN = 4;
/** Keeps the likelihood finite where observations repeat exactly. */
const NEGLIGIBLE_VARIANCE = 1e-14;

type Rows = readonly (readonly number[])[];

/**
 * How much of a random walk do the observations show beside the given design?
 *
 * Restricted maximum likelihood over a grid (Patterson and Thompson 1971, Biometrika 58, 545):
 * −2 ln L = ln|V| + ln|X'V⁻¹X| + (n − p) ln(residual sum of squares) + constant.
 *
 * @param times of the observations, any unit
 * @returns λ, 0 unless its criterion is lower by more than 4 than without a walk
 */
export function wanderRatio(design: Rows, y: readonly number[], times: readonly number[]): number {
  const columns = columnsOf(design);
  const steps = stepsOf(times);
  const without = criterion(columns, y, steps, 0);
  let best = without - REQUIRED_GAIN;
  let ratio = 0;
  for (const tried of RATIOS) {
    const found = criterion(columns, y, steps, tried);
    if (found < best) {
      best = found;
      ratio = tried;
    }
  }
  return ratio;
}

/**
 * `twoGroupFit` on the decorrelated observations.
 *
 * @param ratio λ of the walk
 * @returns coefficients, fitted values, weights and contrasts are those of the observations as given;
 *   residuals (and variances) those of the decorrelated ones: what is new in each, given the earlier
 */
export function wanderFit(
  design: Rows,
  y: readonly number[],
  groups: readonly Group[],
  times: readonly number[],
  ratio: number,
): TwoGroupFit {
  const walk = walkFactor(stepsOf(times), ratio);
  const columns = columnsOf(design).map((column) => forward(walk, column));
  const rows = design.map((_, i) => columns.map((column) => column[i]));
  const fit = twoGroupFit(rows, forward(walk, y), groups);
  return {
    ...fit,
    fitted: design.map((row) => row.reduce((sum, x, j) => sum + x * fit.coefficients[j], 0)),
    weights: fit.weights.map((row) => backward(walk, row)),
    uncertaintyOf: (contrast) => fit.uncertaintyOf(throughTranspose(walk, contrast)),
  };
}

/** −2 ln(restricted likelihood), for columns of the design and observations. */
function criterion(design: Rows, y: readonly number[], steps: Steps, ratio: number) {
  const walk = walkFactor(steps, ratio);
  const sizes = ownSizes([...design, y].map((column) => forward(walk, column)));
  const [rest] = sizes.splice(-1);
  return (
    2 * sumOfLogs(walk.root) +
    2 * sumOfLogs(sizes) +
    (y.length - sizes.length) * Math.log(rest ** 2 + y.length * NEGLIGIBLE_VARIANCE)
  );
}

function sumOfLogs(values: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += Math.log(values[i]);
  return sum;
}

/**
 * Lower triangular L with LL' = I + λ·min(tᵢ, tⱼ), the observations in the order of time. Below its
 * diagonal all elements of a column are equal, so two numbers a column say it all: `root` on the
 * diagonal and `below`.
 */
interface WalkFactor {
  /** Observations in the order of time. */
  readonly order: readonly number[];
  readonly root: readonly number[];
  readonly below: readonly number[];
}

/** Observations in the order of time, and what passes before each. */
interface Steps {
  readonly order: readonly number[];
  readonly passed: readonly number[];
  /** Mean of what passes, the unit in which the walk counts. */
  readonly interval: number;
}

function stepsOf(times: readonly number[]): Steps {
  const order = [...times.keys()].sort((a, b) => times[a] - times[b]);
  const first = times[order[0]];
  const interval = (times[order[order.length - 1]] - first) / (times.length - 1) || 1;
  const passed = order.map((at, i) => (i === 0 ? 0 : times[at] - times[order[i - 1]]));
  return { order, passed, interval };
}

/**
 * The innovations of a random walk seen through noise (Kalman filter of the local level model,
 * Durbin and Koopman 2001, 2.2): P is the variance of the walk given what came before.
 */
function walkFactor({ order, passed, interval }: Steps, ratio: number): WalkFactor {
  const root = new Array<number>(order.length);
  const below = new Array<number>(order.length);
  let walk = 0;
  for (let i = 0; i < order.length; i++) {
    walk += (ratio * passed[i]) / interval;
    root[i] = Math.sqrt(1 + walk);
    below[i] = walk / root[i];
    walk /= 1 + walk;
  }
  return { order, root, below };
}

/** L⁻¹y. */
function forward({ order, root, below }: WalkFactor, y: readonly number[]): number[] {
  const x = new Array<number>(y.length);
  let known = 0;
  for (let i = 0; i < order.length; i++) {
    const at = order[i];
    x[at] = (y[at] - known) / root[i];
    known += below[i] * x[at];
  }
  return x;
}

/** Solves L'x = w. */
function backward({ order, root, below }: WalkFactor, w: readonly number[]): number[] {
  const x = [...w];
  let later = 0;
  for (let i = order.length - 1; i >= 0; i--) {
    const at = order[i];
    x[at] = (w[at] - below[i] * later) / root[i];
    later += x[at];
  }
  return x;
}

/** L'c. */
function throughTranspose({ order, root, below }: WalkFactor, c: readonly number[]): number[] {
  const x = [...c];
  let later = 0;
  for (let i = order.length - 1; i >= 0; i--) {
    const at = order[i];
    x[at] = root[i] * c[at] + below[i] * later;
    later += c[at];
  }
  return x;
}
