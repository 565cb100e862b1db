import { argumentWrong } from '../error.js';
import { normalQuantile } from '../statistics/distributions.js';
import { requireConfidence } from '../statistics/options.js';
import type { Interval } from '../vocabulary.js';

/** Blocks before stability may be declared (7.9.4 has 2, whose spread is chancy). */
const LEAST_BLOCKS = 5;

export interface AdaptiveOptions {
  /** As a fraction (default 0.95). */
  readonly confidence?: number;
  /** Digits of u that are to be meaningful (default 2). */
  readonly significantDigits?: 1 | 2;
  /** 1 (default): stable to δ. 5: stable to δ/5, for validating another method. */
  readonly toleranceDivisor?: 1 | 5;
  /** Bound on the trials (default 10⁶). */
  readonly maxTrials?: number;
  /** Which interval has to be stable (default `symmetric`); both are returned. */
  readonly interval?: 'symmetric' | 'shortest';
}

interface Steering extends Required<AdaptiveOptions> {
  /** Judge the interval only: for quantities whose mean or variance does not exist. */
  readonly intervalOnly?: boolean;
}

/** What the trials show, and whether it stood still. */
export interface AdaptiveResult {
  /** Interval that leaves out equal parts below and above. */
  readonly symmetric: Interval;
  readonly shortest: Interval;
  readonly trials: number;
  /** Whether the results stood still to within `tolerance` before the bound was reached. */
  readonly stable: boolean;
  /** What had to be reached: δ, or δ/5. */
  readonly tolerance: number;
  /** Twice the standard deviation that the trials leave in the worst of the results. */
  readonly noise: number;
}

interface AdaptiveTrials extends AdaptiveResult {
  readonly mean: number;
  readonly standard_uncertainty: number;
}

/**
 * Repeats blocks of trials until the results stand still: the adaptive procedure of JCGM 101:2008,
 * 7.9.4, with an upper bound on the trials.
 *
 * @param fillBlock fills a block with independent draws of the result
 * @throws argument-wrong when a draw is not finite or a bound is too low for two blocks
 */
export function adaptiveTrials(
  fillBlock: (block: Float64Array) => void,
  options: Steering,
): AdaptiveTrials {
  const { confidence } = options;
  requireConfidence(confidence);
  const { size, most } = blocksOf(options);
  const values = new Float64Array(most * size);
  const whole = { mean: 0, squares: 0 };
  // Of each judged result over the blocks: mean, u, low, high.
  const tracked = Array.from({ length: 4 }, () => ({ mean: 0, squares: 0 }));
  let found = { stable: false, tolerance: 0, noise: 0 };
  let h = 0;
  while (h < most && !found.stable) {
    const block = values.subarray(h * size, (h + 1) * size);
    fillBlock(block);
    const moments = blockMoments(block);
    const u = Math.sqrt(moments.squares / (size - 1));
    const results = [moments.mean, u, ...blockInterval(block, options)];
    h++;
    join(whole, moments.mean, h, size);
    whole.squares += moments.squares;
    for (const [i, one] of tracked.entries()) join(one, results[i], h);
    // After one block the noise is 0/0, which is within nothing.
    found = judged(tracked, Math.sqrt(whole.squares / (h * size - 1)), h, options);
    found.stable &&= h >= Math.min(most, LEAST_BLOCKS);
  }
  const all = values.subarray(0, h * size).sort();
  return {
    mean: whole.mean,
    standard_uncertainty: Math.sqrt(whole.squares / (h * size - 1)),
    symmetric: symmetricInterval(all, confidence),
    shortest: shortestInterval(all, confidence),
    trials: h * size,
    ...found,
  };
}

/** 7.9.4 b): blocks of M = max(J, 10^4), J the smallest whole number ≥ 100 / (1 − p); how many at most. */
function blocksOf({ confidence, maxTrials }: Steering) {
  const size = Math.max(10_000, Math.ceil(100 / (1 - confidence) - 1e-9));
  const most = Math.floor(maxTrials / size);
  if (!(most >= 2)) {
    throw argumentWrong(
      `Monte Carlo at this confidence works in blocks of ${size} trials and needs two of them.`,
      maxTrials,
      `maxTrials of ${2 * size} or more`,
    );
  }
  return { size, most };
}

/** Mean, and sum of squares about it. */
interface Moments {
  mean: number;
  squares: number;
}

/** The mean of the h-th block joins, and the squares between blocks of `size` values. */
function join(moments: Moments, mean: number, h: number, size = 1): void {
  const delta = mean - moments.mean;
  moments.squares += (delta * delta * (h - 1) * size) / h;
  moments.mean += delta / h;
}

/** Whether the results over h blocks stand still. */
function judged(
  [mean, u, low, high]: readonly Moments[],
  standardUncertainty: number,
  h: number,
  { confidence, intervalOnly, significantDigits, toleranceDivisor }: Steering,
) {
  const scale = intervalOnly
    ? (high.mean - low.mean) / (2 * normalQuantile(0.5 + confidence / 2))
    : standardUncertainty;
  const tolerance = numericalTolerance(scale, significantDigits) / toleranceDivisor;
  const results = intervalOnly ? [low, high] : [mean, u, low, high];
  const noise = 2 * Math.sqrt(Math.max(...results.map((one) => one.squares)) / (h * (h - 1)));
  return { stable: noise <= tolerance, tolerance, noise };
}

/**
 * δ: half a unit of the last of `digits` significant digits of u.
 *
 * @throws argument-wrong for other digits than 1 and 2
 * @see JCGM 101:2008, 7.9.2
 */
export function numericalTolerance(u: number, digits: 1 | 2): number {
  if (digits !== 1 && digits !== 2) {
    throw argumentWrong('One or two digits count.', digits, '1 or 2');
  }
  if (!(u > 0)) return 0;
  // toExponential rounds and carries: 0.0996 with two digits is 1.0e-1.
  const exponent = Number(u.toExponential(digits - 1).split('e')[1]);
  return 0.5 * 10 ** (exponent - digits + 1);
}

function blockMoments(block: Float64Array): { mean: number; squares: number } {
  let total = 0;
  for (let i = 0; i < block.length; i++) total += block[i];
  const mean = total / block.length;
  if (!Number.isFinite(mean)) {
    throw argumentWrong(
      'The model gave a value that is not finite for a drawn set of inputs.',
      undefined,
      'a model that holds over the whole range of its inputs',
    );
  }
  let squares = 0;
  for (let i = 0; i < block.length; i++) squares += (block[i] - mean) ** 2;
  return { mean, squares };
}

function blockInterval(block: Float64Array, options: Steering): Interval {
  if (options.interval === 'shortest') {
    return shortestInterval(block.slice().sort(), options.confidence);
  }
  const { lower, covered } = places(block.length, options.confidence);
  return [nthSmallest(block, lower), nthSmallest(block, lower + covered)];
}

/** 7.7.2: q trials inside, r below; ranks counted from zero here. Blocks leave 50 outside and more. */
function places(count: number, confidence: number): { lower: number; covered: number } {
  const covered = Math.floor(confidence * count + 0.5);
  return { lower: Math.floor((count - covered + 1) / 2) - 1, covered };
}

function symmetricInterval(sorted: Float64Array, confidence: number): Interval {
  const { lower, covered } = places(sorted.length, confidence);
  return [sorted[lower], sorted[lower + covered]];
}

function shortestInterval(sorted: Float64Array, confidence: number): Interval {
  const { covered } = places(sorted.length, confidence);
  let best = 0;
  for (let r = 1; r + covered < sorted.length; r++) {
    if (sorted[r + covered] - sorted[r] < sorted[best + covered] - sorted[best]) best = r;
  }
  return [sorted[best], sorted[best + covered]];
}

/** The value of rank `rank` (from zero), by Hoare's selection; reorders the block. */
function nthSmallest(block: Float64Array, rank: number): number {
  let low = 0;
  let high = block.length - 1;
  while (low < high) {
    const pivot = block[rank];
    let i = low;
    let j = high;
    while (i <= j) {
      while (block[i] < pivot) i++;
      while (pivot < block[j]) j--;
      if (i <= j) {
        const kept = block[i];
        block[i] = block[j];
        block[j] = kept;
        i++;
        j--;
      }
    }
    if (j < rank) low = i;
    if (rank < i) high = j;
  }
  return block[rank];
}
