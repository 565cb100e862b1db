import { argumentWrong } from '../error.js';
import { noncentralStudentQuantile } from '../statistics/noncentralStudent.js';
import { requireConfidence, requireOptions } from '../statistics/options.js';
import { requireShape } from '../statistics/shapes.js';
import { mean, standardDeviation } from '../statistics/summary.js';
import type { Interval, LimitsOfAgreement } from '../vocabulary.js';
import { checkDifferences } from './checkDifferences.js';

export interface LimitsOptions {
  /** Confidence level of the interval of each limit, as a fraction (default 0.95). */
  readonly confidence?: number;
  /** Limits are mean ± this many standard deviations (default 1.96, for 95 % of differences). */
  readonly multiplier?: number;
}

/** The names of `LimitsOptions`. */
export const LIMITS_OPTIONS = { confidence: true, multiplier: true } as const;

/** What the limits need to know about the differences. */
export interface DifferenceFigures {
  /** Number of independent differences, 2 or more. */
  readonly n: number;
  readonly mean: number;
  readonly sd: number;
}

/** Limits that cannot be given. */
export const NO_LIMITS: LimitsOfAgreement = {
  low: null,
  high: null,
  low_interval: [null, null],
  high_interval: [null, null],
};

export function requireMultiplier(multiplier: number): void {
  if (!(Number.isFinite(multiplier) && multiplier >= 0 && multiplier <= 100)) {
    throw argumentWrong('The multiplier of the limits is out of range.', multiplier, '0 to 100');
  }
}

const known = new Map<string, Interval>();

/**
 * How many standard deviations from the mean does the interval of the upper limit begin and end?
 *
 * @returns `[c₁, c₂]` with cᵢ = t′(pᵢ; n − 1, multiplier·√n)/√n, p = (1 ∓ confidence)/2: the upper
 *   limit lies between mean + c₁·sd and mean + c₂·sd, the lower between mean − c₂·sd and mean − c₁·sd
 * @throws argument-wrong
 *
 * Source: exact interval of a normal percentile by noncentral t; Carkeet, Optom. Vis. Sci. 92 (2015)
 * e71; Shieh, BMC Med. Res. Methodol. 18:45 (2018).
 */
export function exactLimitFactors(n: number, options: LimitsOptions = {}): Interval {
  const { confidence = 0.95, multiplier = 1.96 } = requireOptions(options, LIMITS_OPTIONS);
  requireConfidence(confidence);
  requireMultiplier(multiplier);
  if (!Number.isInteger(n) || n < 2 || n > 1e6) {
    throw argumentWrong(
      'The number of differences is out of range.',
      n,
      'a whole number, 2 to 1e6',
    );
  }
  const key = `${n} ${confidence} ${multiplier}`;
  const before = known.get(key);
  if (before !== undefined) return before;
  const root = Math.sqrt(n);
  const at = (p: number) => noncentralStudentQuantile(p, n - 1, multiplier * root) / root;
  const factors: Interval = [at((1 - confidence) / 2), at((1 + confidence) / 2)];
  // Simulations ask for the same few again and again; the bound keeps the memory small.
  if (known.size < 1000) known.set(key, factors);
  return factors;
}

/** Limits of agreement from n, mean and standard deviation; see `limitsOfAgreement`. */
export function limitsFromFigures(
  figures: DifferenceFigures,
  options: LimitsOptions = {},
): LimitsOfAgreement {
  const { multiplier = 1.96 } = requireOptions(options, LIMITS_OPTIONS);
  requireShape(figures, 'The figures of the differences', {
    fields: { n: 'number', mean: 'number', sd: 'not-negative' },
  });
  checkDifferences([figures.mean, figures.sd]);
  const { n, mean: centre, sd } = figures;
  const [near, far] = exactLimitFactors(n, options);
  return {
    low: centre - multiplier * sd,
    high: centre + multiplier * sd,
    low_interval: [centre - far * sd, centre - near * sd],
    high_interval: [centre + near * sd, centre + far * sd],
  };
}

/** The limits with the figures that they were made from. */
export interface LimitsWithFigures extends LimitsOfAgreement {
  readonly n: number;
  /** `null` below two values, as the limits are. */
  readonly mean: number | null;
  readonly sd: number | null;
  readonly multiplier: number;
  readonly confidence: number;
}

/** `limitsOfAgreement` as a result carries it. */
export function limitsOf(
  values: readonly number[],
  options: LimitsOptions = {},
): LimitsOfAgreement {
  const { low, high, low_interval, high_interval } = limitsOfAgreement(values, options);
  return { low, high, low_interval, high_interval };
}

/**
 * Between which limits do 95 % of the differences between the two meters lie, and how sure is that?
 *
 * @param values independent differences (candidate − reference), any unit
 * @returns n, mean and sd; `low`, `high`: mean ∓ multiplier·sd; `low_interval`, `high_interval`: exact two-sided
 *   interval of each limit (it is not symmetric: the outer arm is longer). Below two values all are
 *   `null`. Values that are all equal give limits of no width, which says that the display hides
 *   the scatter, not that there is none.
 * @throws argument-wrong for values that are not finite, a confidence outside (0, 1) or a multiplier
 *   below 0
 *
 * Not for several differences from one series (`replicateLimits`), nor where the difference or its
 * spread changes with the level (`ratioLimits`, `proportionalBias`).
 * Source: Bland and Altman, Lancet 327 (1986) 307; interval: see `exactLimitFactors`.
 */
export function limitsOfAgreement(
  values: readonly number[],
  options: LimitsOptions = {},
): LimitsWithFigures {
  const { confidence = 0.95, multiplier = 1.96 } = requireOptions(options, LIMITS_OPTIONS);
  requireConfidence(confidence);
  requireMultiplier(multiplier);
  checkDifferences(values);
  const n = values.length;
  if (n < 2) return { ...NO_LIMITS, n, mean: null, sd: null, multiplier, confidence };
  const figures = { n, mean: mean(values), sd: standardDeviation(values) };
  return { ...limitsFromFigures(figures, options), ...figures, multiplier, confidence };
}
