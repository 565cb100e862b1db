import { percent, significant } from '../findings/formatNumber.js';
import { requireOptions } from '../statistics/options.js';
import { requireShape } from '../statistics/shapes.js';
import type { Interval } from '../vocabulary.js';

export interface LagDroop {
  /**
   * `corrected`: both time constants are known; `bounded`: at least one is not, so only bounds can be
   * given.
   */
  readonly status: 'corrected' | 'bounded';
  /** Bias of candidate ÷ reference as a fraction; `null` when only bounds are known. */
  readonly relative_bias: number | null;
  /**
   * Standard uncertainty of the bias as a fraction. For `bounded`, of a bias taken as 0: the bounds
   * count as limits of a rectangular distribution.
   */
  readonly relative_standard_uncertainty: number;
  /** Bounds of the bias; for `corrected` the bias ± two standard uncertainties. */
  readonly bounds: Interval;
  /** Multiply a factor K = reference ÷ candidate by this to remove the bias; 1 when bounded. */
  readonly factor_multiplier: number;
  readonly why: string;
}

/** Longest time constant that a hand-held thermal head is given when none is stated, in s. */
const LARGEST_TIME_CONSTANT_S = 10;

/**
 * What does a drooping source do to the ratio of two meters that settle at different speed? Each
 * settled reading is the power one time constant ago, so with the power falling by the fraction β per
 * second candidate ÷ reference is off by β · (τ candidate − τ reference). No order of runs and no
 * fixed reading time cancels it.
 *
 * @param options `relativeDroop_per_s`: β, fraction per s, positive when the power FALLS; its
 *   standard uncertainty (default 0); time constants in s or `null` when not known, with standard
 *   uncertainties (default 0); `largestTimeConstant_s`: bound of an unknown one (default 10 s,
 *   common practice, no source: state your own). For readings taken after 3 τ or later
 * @returns the bias with its uncertainty, or bounds when a time constant is not known
 * @throws argument-wrong
 * Source: response of a first-order sensor to a ramp; uncertainty of a product, JCGM 100:2008, 5.1.2
 * with the second-order term; bounds as a rectangular distribution, 4.3.7.
 */
export function lagDroop(options: {
  readonly relativeDroop_per_s: number;
  readonly relativeDroopStandardUncertainty_per_s?: number;
  readonly timeConstantReference_s: number | null;
  readonly timeConstantCandidate_s: number | null;
  readonly timeConstantReferenceStandardUncertainty_s?: number;
  readonly timeConstantCandidateStandardUncertainty_s?: number;
  readonly largestTimeConstant_s?: number;
}): LagDroop {
  requireOptions(options, {
    relativeDroop_per_s: true,
    relativeDroopStandardUncertainty_per_s: true,
    timeConstantReference_s: true,
    timeConstantCandidate_s: true,
    timeConstantReferenceStandardUncertainty_s: true,
    timeConstantCandidateStandardUncertainty_s: true,
    largestTimeConstant_s: true,
  });
  const droop = options.relativeDroop_per_s;
  const droopU = options.relativeDroopStandardUncertainty_per_s ?? 0;
  const reference = options.timeConstantReference_s;
  const candidate = options.timeConstantCandidate_s;
  const referenceU = options.timeConstantReferenceStandardUncertainty_s ?? 0;
  const candidateU = options.timeConstantCandidateStandardUncertainty_s ?? 0;
  const largest = options.largestTimeConstant_s ?? LARGEST_TIME_CONSTANT_S;
  requireShape(droop, 'A droop', 'number');
  requireShape(droopU, 'The uncertainty of the droop', 'not-negative');
  requireShape(referenceU, 'The uncertainty of a time constant', 'not-negative');
  requireShape(candidateU, 'The uncertainty of a time constant', 'not-negative');
  requireShape(largest, 'The largest time constant', 'above-zero');
  if (reference !== null) requireShape(reference, 'A time constant', 'above-zero');
  if (candidate !== null) requireShape(candidate, 'A time constant', 'above-zero');

  if (reference !== null && candidate !== null) {
    const difference = candidate - reference;
    const differenceU = Math.hypot(referenceU, candidateU);
    const bias = droop * difference;
    // The product of the two uncertainties counts where droop or difference is near 0.
    const u = Math.hypot(difference * droopU, droop * differenceU, droopU * differenceU);
    return {
      status: 'corrected',
      relative_bias: bias,
      relative_standard_uncertainty: u,
      bounds: [bias - 2 * u, bias + 2 * u],
      factor_multiplier: 1 + bias,
      why: `Droop × difference of the time constants (${significant(difference, 3)} s).`,
    };
  }
  // Largest droop that two standard uncertainties allow, over all time constants from 0 up.
  const worst = Math.abs(droop) + 2 * droopU;
  const both = reference === null && candidate === null;
  const low = candidate === null ? 0 : Math.max(0, candidate - 2 * candidateU);
  const high = candidate === null ? largest : candidate + 2 * candidateU;
  const otherLow = reference === null ? 0 : Math.max(0, reference - 2 * referenceU);
  const otherHigh = reference === null ? largest : reference + 2 * referenceU;
  const extremes = [low - otherHigh, high - otherLow];
  const droops = [droop - 2 * droopU, droop + 2 * droopU];
  const products = droops.flatMap((d) => extremes.map((e) => d * e));
  // Adding 0 turns −0 into 0.
  const bounds: Interval = [Math.min(...products) + 0, Math.max(...products) + 0];
  const centre = (bounds[0] + bounds[1]) / 2;
  const half = (bounds[1] - bounds[0]) / 2;
  const unknown = both
    ? 'Neither time constant is known'
    : `The ${candidate === null ? 'candidate' : 'reference'}'s time constant is not known`;
  return {
    status: 'bounded',
    relative_bias: null,
    relative_standard_uncertainty: Math.hypot(centre, half / Math.sqrt(3)),
    bounds,
    factor_multiplier: 1,
    why: `${unknown} (0 to ${largest} s assumed); with the source changing by up to ${percent(worst)} per s the ratio may be off by this much. A trace of each meter would settle it.`,
  };
}
