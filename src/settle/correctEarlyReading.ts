import { formatNumber, significant } from '../findings/formatNumber.js';
import { combineIndependent } from '../statistics/combineIndependent.js';
import { coverageFactorOf } from '../statistics/distributions.js';
import { CONFIDENCE, requireOptions } from '../statistics/options.js';
import { type Interval, KNOWN_EXACTLY } from '../vocabulary.js';
import { MOST_MISSING, missingFraction } from './missingFraction.js';

export type EarlyReading =
  | {
      readonly status: 'corrected';
      /** Settled value in mW. */
      readonly value_mW: number;
      /** What the early reading was multiplied by, above 1. */
      readonly multiplier: number;
      readonly missing_fraction: number;
      readonly standard_uncertainty_mW: number;
      readonly dof: number;
      readonly expanded_uncertainty_mW: number;
      readonly coverage_factor: number;
      readonly interval_mW: Interval;
      /** Parts of the relative standard uncertainty of the value, as fractions. */
      readonly parts: {
        readonly reading: number;
        readonly time_constant: number;
        readonly time: number;
      };
    }
  | { readonly status: 'refused'; readonly why: string };

/** Above this relative uncertainty of τ the first-order uncertainty no longer describes the error. */
const MOST_TAU_UNCERTAINTY = 0.25;

export interface EarlyReadingOptions {
  readonly reading_mW: number;
  readonly elapsed_s: number;
  readonly timeConstant_s: number;
  readonly timeConstantStandardUncertainty_s: number;
  readonly timeConstantDof?: number;
  readonly readingStandardUncertainty_mW?: number;
  readonly readingDof?: number;
  readonly elapsedStandardUncertainty_s?: number;
  readonly confidence?: number;
}

/**
 * What would a reading that was taken too early have become? Divides it by 1 − e^(−t/τ).
 *
 * @param options `reading_mW` above 0; `elapsed_s` since switch-on; `timeConstant_s` and its
 *   standard uncertainty and dof (from `fitStepResponse` or `combineTimeConstants`); standard
 *   uncertainties of reading and time (default 0); `confidence` (default 0.95)
 * @returns settled value with its uncertainty, or a refusal: more than half is missing, or τ is known
 *   worse than to 25 %. Holds for a steady source and a first-order sensor without anticipation
 * @throws argument-wrong
 * Source: first-order step response; JCGM 100:2008, 5.1.2 and G.4.
 */
export function correctEarlyReading(options: EarlyReadingOptions): EarlyReading {
  const early = checked(options);
  const missing = missingFraction(early.elapsed_s, early.timeConstant_s);
  const why = tooUncertain(early, missing);
  if (why !== null) return { status: 'refused', why };
  const multiplier = 1 / (1 - missing);
  const value = early.reading_mW * multiplier;
  const parts = relativeParts(early, missing);
  const { standardUncertainty: relative, dof } = combineIndependent([
    { standardUncertainty: parts.reading, dof: early.readingDof },
    { standardUncertainty: parts.time_constant, dof: early.timeConstantDof },
    { standardUncertainty: parts.time, dof: KNOWN_EXACTLY },
  ]);
  const k = coverageFactorOf(early.confidence, dof);
  const u = relative * value;
  return {
    status: 'corrected',
    value_mW: value,
    multiplier,
    missing_fraction: missing,
    standard_uncertainty_mW: u,
    dof,
    expanded_uncertainty_mW: k * u,
    coverage_factor: k,
    interval_mW: [value - k * u, value + k * u],
    parts,
  };
}

/** @throws argument-wrong */
function checked(options: EarlyReadingOptions): Required<EarlyReadingOptions> {
  requireOptions(options, {
    reading_mW: 'above-zero',
    elapsed_s: 'not-negative',
    timeConstant_s: 'above-zero',
    timeConstantStandardUncertainty_s: 'not-negative',
    timeConstantDof: { maybe: 'above-zero' },
    readingStandardUncertainty_mW: { maybe: 'not-negative' },
    readingDof: { maybe: 'above-zero' },
    elapsedStandardUncertainty_s: { maybe: 'not-negative' },
    confidence: CONFIDENCE,
  });
  return {
    ...options,
    timeConstantDof: options.timeConstantDof ?? KNOWN_EXACTLY,
    readingStandardUncertainty_mW: options.readingStandardUncertainty_mW ?? 0,
    readingDof: options.readingDof ?? KNOWN_EXACTLY,
    elapsedStandardUncertainty_s: options.elapsedStandardUncertainty_s ?? 0,
    confidence: options.confidence ?? 0.95,
  };
}

/** Why a correction would rest on too little; `null`: it does not. */
function tooUncertain(early: EarlyReadingOptions, missing: number): string | null {
  const { elapsed_s: t, timeConstant_s: tau, timeConstantStandardUncertainty_s: u } = early;
  if (missing > MOST_MISSING) {
    return `At ${t} s ${formatNumber(missing, { as: 'percent', places: 0 })} is still missing; a correction rests on more reading than that. Wait at least ${significant(tau * Math.LN2, 2)} s.`;
  }
  return u / tau > MOST_TAU_UNCERTAINTY
    ? `The time constant is known to ${formatNumber(u / tau, { as: 'percent', places: 0 })} only; 25 % is the most a correction can bear.`
    : null;
}

/** Relative standard uncertainties of the value: d ln(value) by d ln(τ) and by d t. */
function relativeParts(early: Required<EarlyReadingOptions>, missing: number) {
  const { elapsed_s: t, timeConstant_s: tau } = early;
  const leverage = ((t / tau) * missing) / (1 - missing);
  return {
    reading: early.readingStandardUncertainty_mW / early.reading_mW,
    time_constant: leverage * (early.timeConstantStandardUncertainty_s / tau),
    time: ((missing / (1 - missing)) * early.elapsedStandardUncertainty_s) / tau,
  };
}
