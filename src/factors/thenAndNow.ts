/** A later factor against an earlier one: has the meter moved? */

import { argumentWrong } from '../error.js';
import { formatEstimate, percent } from '../findings/formatNumber.js';
import { type DatedFactor, withoutCommon } from '../opinions/withoutCommon.js';
import { combineIndependent } from '../statistics/combineIndependent.js';
import { coverageFactor } from '../statistics/distributions.js';
import { requireOptions } from '../statistics/options.js';
import type { Shape } from '../statistics/shapes.js';

export interface ThenAndNowInput {
  readonly earlier: DatedFactor;
  readonly now: DatedFactor;
  /** Whether both were measured against the same reference under the same calibration. */
  readonly sameReference: boolean;
  /**
   * Relative standard uncertainty of that reference, which both factors carry; `null` when it was
   * never stated, and then neither carries it.
   */
  readonly referenceRelativeUncertainty: number | null;
  /** Change that still serves, as a fraction between 0 and 1. */
  readonly tolerance: number;
  readonly confidence: number;
}

export interface ThenAndNowResult {
  /** Factor now over factor then, minus 1. */
  readonly change: number;
  readonly relativeStandardUncertainty: number;
  readonly dof: number;
  /** Interval of the change at the stated confidence. */
  readonly low: number;
  readonly high: number;
  /** `within`: the change is no more than the tolerance; `moved`: there is one; `not-shown`: neither. */
  readonly verdict: 'within' | 'moved' | 'not-shown';
  /** Whether the reference's uncertainty was left out as common to both. */
  readonly commonLeftOut: boolean;
  readonly why: string;
}

const DATED: Shape = {
  fields: {
    factor: 'above-zero',
    relative_standard_uncertainty: 'not-negative',
    dof: 'above-zero',
  },
};

/**
 * By how much has the factor changed, beyond both uncertainties?
 *
 * ln(K_now/K_then) with u² = u₁² + u₂², from which the reference's part is taken out on both sides
 * when the reference is the same; degrees of freedom by Welch and Satterthwaite (JCGM 100:2008,
 * G.4.1) from what remains. With another reference everything counts.
 *
 * @throws argument-wrong for factors not above 0, a reference uncertainty larger than that of a
 *   factor it is part of, a tolerance or confidence outside (0, 1)
 *
 * The reference itself may have drifted between: no data of this kind can tell that from a change
 * of the candidate. Source: JCGM 100:2008, 5.2 (correlated inputs), G.4.1.
 */
export function thenAndNow(input: ThenAndNowInput): ThenAndNowResult {
  requireOptions(input, {
    earlier: DATED,
    now: DATED,
    sameReference: 'yes-or-no',
    referenceRelativeUncertainty: { orNull: 'not-negative' },
    tolerance: 'fraction',
    confidence: 'confidence',
  });
  const { earlier, now, sameReference, tolerance, confidence } = input;
  check(input);
  const common = sameReference ? (input.referenceRelativeUncertainty ?? 0) : 0;
  const { standardUncertainty: u, dof } = combineIndependent([
    withoutCommon(earlier, common),
    withoutCommon(now, common),
  ]);
  const ratio = now.factor / earlier.factor;
  const half = coverageFactor(confidence, dof) * u;
  const low = ratio * Math.exp(-half) - 1;
  const high = ratio * Math.exp(half) - 1;
  const change = ratio - 1;
  const verdict =
    low >= -tolerance && high <= tolerance ? 'within' : low > 0 || high < 0 ? 'moved' : 'not-shown';
  return {
    change,
    relativeStandardUncertainty: u,
    dof,
    low,
    high,
    verdict,
    commonLeftOut: common > 0,
    why: explain(verdict, { change, low, high, tolerance, sameReference }),
  };
}

function explain(
  verdict: ThenAndNowResult['verdict'],
  {
    change,
    low,
    high,
    tolerance,
    sameReference,
  }: {
    readonly change: number;
    readonly low: number;
    readonly high: number;
    readonly tolerance: number;
    readonly sameReference: boolean;
  },
): string {
  const head = `The factor changed by ${formatEstimate(change, low, high, { as: 'percent' })}.`;
  const tail = sameReference
    ? ' The reference is the same, so a drift of the reference itself would look the same.'
    : '';
  const middle = {
    within: ` That is within ${percent(tolerance)}, uncertainty included${low > 0 || high < 0 ? ', though not zero' : ''}: the earlier factor still serves.`,
    moved: ` That is beyond both uncertainties${Math.abs(change) > tolerance ? ' and beyond the tolerance' : ''}: use the younger factor, and look for a cause.`,
    'not-shown':
      ' Neither a change nor its absence is shown: take more laps before trusting either factor over the other.',
  }[verdict];
  return `${head}${middle}${tail}`;
}

/** Within 1 %: the numbers may have been rounded in a file. */
function check({ earlier, now, sameReference, ...input }: ThenAndNowInput): void {
  const common = sameReference ? (input.referenceRelativeUncertainty ?? 0) : 0;
  for (const { relative_standard_uncertainty: u } of [earlier, now]) {
    if (common > u * 1.01) {
      throw argumentWrong(
        'The reference’s uncertainty cannot exceed that of a factor it is part of.',
        `${common} against ${u}`,
      );
    }
  }
}
