/** Does a value keep to its limits, with the measurement uncertainty counted? */

import { argumentWrong } from '../error.js';
import { percent } from '../findings/formatNumber.js';
import { coverageFactor, normalCdf, studentCdf } from '../statistics/distributions.js';
import { requireOptions } from '../statistics/options.js';

export interface ConformityInput {
  readonly value: number;
  readonly standardUncertainty: number;
  /** Degrees of freedom of the uncertainty; normal distribution and U = 2u when left out. */
  readonly dof?: number;
  /** Lowest and highest permitted value; leave out what is not limited. */
  readonly lowerLimit?: number;
  readonly upperLimit?: number;
  /** Guard band in units of the expanded uncertainty (95 %); default 1, 0 for simple acceptance. */
  readonly guardBandFactor?: number;
}

export type ConformityZone = 'accept' | 'reject' | 'undecided';

export interface ConformityResult {
  /** Probability that the true value keeps to the limits, 0 to 1. */
  readonly probability: number;
  /** Verdict with the uncertainty ignored. */
  readonly simple: 'accept' | 'reject';
  /** Verdict with a guard band on either side of every limit. */
  readonly zone: ConformityZone;
  readonly guardBand: number;
  /** Values that are accepted; an end is `null` when not limited, the whole when none is left. */
  readonly acceptance: readonly [number | null, number | null] | null;
  readonly why: string;
}

/**
 * Probability of conformity, simple acceptance, and the three zones of guarded acceptance.
 *
 * p = F((T_U − y)/u) − F((T_L − y)/u), F the normal distribution, or Student's t when degrees of
 * freedom are given. Guarded: accepted inside [T_L + w, T_U − w], rejected beyond [T_L − w, T_U + w],
 * w = guardBandFactor × U.
 *
 * @throws argument-wrong without a limit, for limits in the wrong order, or a negative uncertainty
 *
 * Source: JCGM 106:2012, clauses 7 and 8 (from memory); ILAC-G8:09/2019 for w = U (read in a
 * secondary text: probability of false acceptance below 2.5 %).
 */
export function conformity(input: ConformityInput): ConformityResult {
  requireOptions(input, {
    value: true,
    standardUncertainty: true,
    dof: true,
    lowerLimit: true,
    upperLimit: true,
    guardBandFactor: true,
  });
  check(input);
  const { value, standardUncertainty: u, dof } = input;
  const lower = input.lowerLimit ?? null;
  const upper = input.upperLimit ?? null;
  const below = (limit: number) => {
    if (u === 0) return value <= limit ? 1 : 0;
    return dof === undefined
      ? normalCdf((limit - value) / u)
      : studentCdf((limit - value) / u, dof);
  };
  // Above the lower limit by symmetry, so that a value on the limit with u = 0 conforms.
  const above = (limit: number) => {
    if (u === 0) return value >= limit ? 1 : 0;
    return dof === undefined
      ? normalCdf((value - limit) / u)
      : studentCdf((value - limit) / u, dof);
  };
  const probability = Math.min(
    1,
    Math.max(0, (upper === null ? 1 : below(upper)) + (lower === null ? 1 : above(lower)) - 1),
  );
  const expanded = u * (dof === undefined ? 2 : coverageFactor(0.95, dof));
  const w = (input.guardBandFactor ?? 1) * expanded;
  const inside = (margin: number) =>
    (lower === null || value >= lower + margin) && (upper === null || value <= upper - margin);
  const zone: ConformityZone = inside(w) ? 'accept' : inside(-w) ? 'undecided' : 'reject';
  const acceptance = [
    lower === null ? null : lower + w,
    upper === null ? null : upper - w,
  ] as const;
  const empty = acceptance[0] !== null && acceptance[1] !== null && acceptance[0] > acceptance[1];
  return {
    probability,
    simple: inside(0) ? 'accept' : 'reject',
    zone,
    guardBand: w,
    acceptance: empty ? null : acceptance,
    why: explain(zone, probability, empty),
  };
}

function explain(zone: ConformityZone, probability: number, empty: boolean): string {
  const chance = `The true value keeps to the limits with a probability of ${percent(probability, 3)}.`;
  if (empty)
    return `${chance} The guard bands leave no value that could be accepted: measure better.`;
  if (zone === 'accept') return `${chance} It is inside the limits by at least the guard band.`;
  if (zone === 'reject') return `${chance} It is outside the limits by more than the guard band.`;
  return `${chance} It is closer to a limit than the guard band, so neither is shown.`;
}

function check(input: ConformityInput): void {
  const { value, standardUncertainty, lowerLimit, upperLimit, guardBandFactor, dof } = input;
  const given = [value, standardUncertainty, lowerLimit, upperLimit, guardBandFactor, dof];
  const wrong = given.find((one) => one !== undefined && !Number.isFinite(one));
  if (wrong !== undefined) throw argumentWrong('Conformity needs finite numbers.', wrong);
  if (lowerLimit === undefined && upperLimit === undefined) {
    throw argumentWrong('Conformity needs a lower or an upper limit.');
  }
  if (lowerLimit !== undefined && upperLimit !== undefined && lowerLimit >= upperLimit) {
    throw argumentWrong(
      'The lower limit must lie below the upper one.',
      `${lowerLimit}, ${upperLimit}`,
    );
  }
  if (standardUncertainty < 0) {
    throw argumentWrong('A standard uncertainty must be 0 or more.', standardUncertainty);
  }
  if ((guardBandFactor ?? 1) < 0) {
    throw argumentWrong('A guard band factor must be 0 or more.', guardBandFactor);
  }
}
