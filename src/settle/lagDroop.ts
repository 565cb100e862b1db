import { percent, significant } from '../findings/formatNumber.js';
import { requireOptions } from '../statistics/options.js';
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
export const LARGEST_TIME_CONSTANT_S = 10;

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
export function lagDroop(options: LagDroopOptions): LagDroop {
  const { droop, reference, candidate, largest } = checked(options);
  return reference.value === null || candidate.value === null
    ? bounded(droop, reference, candidate, largest)
    : corrected(droop, candidate.value - reference.value, Math.hypot(reference.u, candidate.u));
}

export interface LagDroopOptions {
  readonly relativeDroop_per_s: number;
  readonly relativeDroopStandardUncertainty_per_s?: number;
  readonly timeConstantReference_s: number | null;
  readonly timeConstantCandidate_s: number | null;
  readonly timeConstantReferenceStandardUncertainty_s?: number;
  readonly timeConstantCandidateStandardUncertainty_s?: number;
  readonly largestTimeConstant_s?: number;
}

/** A value with its standard uncertainty; `null`: not known. */
interface Known<Value = number> {
  readonly value: Value;
  readonly u: number;
}

/** @throws argument-wrong */
function checked(options: LagDroopOptions) {
  requireOptions(options, {
    relativeDroop_per_s: 'number',
    relativeDroopStandardUncertainty_per_s: { maybe: 'not-negative' },
    timeConstantReference_s: { orNull: 'above-zero' },
    timeConstantCandidate_s: { orNull: 'above-zero' },
    timeConstantReferenceStandardUncertainty_s: { maybe: 'not-negative' },
    timeConstantCandidateStandardUncertainty_s: { maybe: 'not-negative' },
    largestTimeConstant_s: { maybe: 'above-zero' },
  });
  return {
    droop: {
      value: options.relativeDroop_per_s,
      u: options.relativeDroopStandardUncertainty_per_s ?? 0,
    },
    reference: {
      value: options.timeConstantReference_s,
      u: options.timeConstantReferenceStandardUncertainty_s ?? 0,
    },
    candidate: {
      value: options.timeConstantCandidate_s,
      u: options.timeConstantCandidateStandardUncertainty_s ?? 0,
    },
    largest: options.largestTimeConstant_s ?? LARGEST_TIME_CONSTANT_S,
  };
}

/** Both time constants are known, and so is how far they lie apart. */
function corrected(droop: Known, difference: number, differenceU: number): LagDroop {
  const bias = droop.value * difference;
  // The product of the two uncertainties counts where droop or difference is near 0.
  const u = Math.hypot(difference * droop.u, droop.value * differenceU, droop.u * differenceU);
  return {
    status: 'corrected',
    relative_bias: bias,
    relative_standard_uncertainty: u,
    bounds: [bias - 2 * u, bias + 2 * u],
    factor_multiplier: 1 + bias,
    why: `Droop × difference of the time constants (${significant(difference, 3)} s).`,
  };
}

/** All droops that two standard uncertainties allow, over all time constants from 0 up. */
function bounded(
  droop: Known,
  reference: Known<number | null>,
  candidate: Known<number | null>,
  largest: number,
): LagDroop {
  const range = ({ value, u }: Known<number | null>) =>
    value === null ? [0, largest] : [Math.max(0, value - 2 * u), value + 2 * u];
  const [own, other] = [range(candidate), range(reference)];
  const differences = [own[0] - other[1], own[1] - other[0]];
  const products = [droop.value - 2 * droop.u, droop.value + 2 * droop.u].flatMap((one) =>
    differences.map((difference) => one * difference),
  );
  // Adding 0 turns −0 into 0.
  const bounds: Interval = [Math.min(...products) + 0, Math.max(...products) + 0];
  const [centre, half] = [(bounds[0] + bounds[1]) / 2, (bounds[1] - bounds[0]) / 2];
  const unknown =
    reference.value === null && candidate.value === null
      ? 'Neither time constant is known'
      : `The ${candidate.value === null ? 'candidate' : 'reference'}'s time constant is not known`;
  return {
    status: 'bounded',
    relative_bias: null,
    relative_standard_uncertainty: Math.hypot(centre, half / Math.sqrt(3)),
    bounds,
    factor_multiplier: 1,
    why: `${unknown} (0 to ${significant(largest, 3)} s assumed); with the source changing by up to ${percent(Math.abs(droop.value) + 2 * droop.u)} per s the ratio may be off by this much. A trace of each meter would settle it.`,
  };
}
