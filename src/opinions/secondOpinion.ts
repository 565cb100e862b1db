/** A value from elsewhere beside ours: do they agree, and which of two meters does it support? */

import { argumentWrong } from '../error.js';
import { percent as percentOf, significant } from '../findings/formatNumber.js';
import { METERS } from '../record/meters.js';
import { requireOptions } from '../statistics/options.js';
import type { Shape } from '../statistics/shapes.js';
import type { MeterRole } from '../vocabulary.js';

/** A power with its standard uncertainty, mW; `null` when nobody stated it. */
export interface StatedPower {
  readonly value_mW: number;
  readonly standardUncertainty_mW: number | null;
}

const POWER: Shape = {
  fields: { value_mW: 'above-zero', standardUncertainty_mW: { orNull: 'not-negative' } },
};

export interface ScoreInput {
  readonly ours: StatedPower;
  readonly theirs: StatedPower;
  /**
   * Standard uncertainty in mW that both have in common (calibrated against the same instrument);
   * default 0. It drops out of the difference.
   */
  readonly commonStandardUncertainty_mW?: number;
  /** Coverage factor of both expanded uncertainties in E_n (default 2). */
  readonly coverageFactor?: number;
}

export interface ScoreResult {
  /** Ours − theirs, mW. */
  readonly difference_mW: number;
  /** The same as a fraction of theirs. */
  readonly relativeDifference: number;
  /** Difference over its standard uncertainty; `null`: see `why`. */
  readonly zeta: number | null;
  /** Difference over its expanded uncertainty; `null`: see `why`. */
  readonly en: number | null;
  /** |ζ| up to 2, between 2 and 3, from 3 on; `null` without uncertainties. */
  readonly verdict: 'agrees' | 'questionable' | 'disagrees' | null;
  readonly why: string;
}

/**
 * E_n and zeta score of our value against a certificate.
 *
 * ζ = (x − x₀)/√(u² + u₀²), E_n = (x − x₀)/√(U² + U₀²), U = k·u. Neither holds when both values
 * lean on one reference; what they share has to be given and is taken out: u² + u₀² − 2c².
 *
 * @throws argument-wrong for powers that are not above 0 or an impossible uncertainty
 *
 * Source: ISO 13528:2022, 9.6 and 9.7 (E_n read in a secondary text; the marks 2 and 3 in NIST's
 * Dataplot manual, "ISO 13528 zeta score").
 */
export function compatibilityScore(input: ScoreInput): ScoreResult {
  requireOptions(input, {
    ours: POWER,
    theirs: POWER,
    commonStandardUncertainty_mW: true,
    coverageFactor: true,
  });
  const { ours, theirs } = input;
  const common = input.commonStandardUncertainty_mW ?? 0;
  const k = input.coverageFactor ?? 2;
  const difference_mW = ours.value_mW - theirs.value_mW;
  const relativeDifference = difference_mW / theirs.value_mW;
  const open = { difference_mW, relativeDifference, zeta: null, en: null, verdict: null } as const;
  const u1 = ours.standardUncertainty_mW;
  const u2 = theirs.standardUncertainty_mW;
  const apart = `The values are ${percent(relativeDifference)} apart`;
  if (u1 === null || u2 === null) {
    const whose = u1 === null ? 'ours' : 'theirs';
    return {
      ...open,
      why: `${apart}; the uncertainty of ${whose} is not stated, so nobody can say whether that is much.`,
    };
  }
  if (!(common >= 0 && common <= Math.min(u1, u2)) || !(k > 0)) {
    throw argumentWrong(
      'The common part must not exceed either uncertainty, and the coverage factor must be above 0.',
      `common ${common} mW, k ${k}`,
    );
  }
  const u = Math.sqrt(Math.max(0, u1 ** 2 + u2 ** 2 - 2 * common ** 2));
  if (u === 0) {
    return {
      ...open,
      why: `${apart}; both uncertainties are zero once their common part is taken out, so no score can be formed.`,
    };
  }
  const zeta = difference_mW / u;
  const size = Math.abs(zeta);
  const verdict = size <= 2 ? 'agrees' : size < 3 ? 'questionable' : 'disagrees';
  const meaning = {
    agrees: 'they agree within their uncertainties',
    questionable: 'that is more than it should be, yet too little to call it wrong',
    disagrees: 'at least one of them is wrong by more than it admits',
  }[verdict];
  return {
    difference_mW,
    relativeDifference,
    zeta,
    en: zeta / k,
    verdict,
    why: `${apart}, ${significant(size, 2)} times the standard uncertainty of the difference: ${meaning}.`,
  };
}

export interface AsNewInput {
  /** What a meter shows for the source now. */
  readonly now: StatedPower;
  /** What its maker measured when it was new; the maker's rating when nothing better is known. */
  readonly asNew: StatedPower;
}

export interface AsNewResult {
  /** `too-high`: the meter shows more than the source can emit. Never proof that a meter is right. */
  readonly verdict: 'too-high' | 'possible' | null;
  /** By how much the meter reads too high at least, as a fraction; `null` unless `too-high`. */
  readonly atLeast: number | null;
  readonly why: string;
}

/**
 * One-sided: a diode does not gain power with age, so its as-new power is an upper bound. A meter
 * that shows more, beyond both uncertainties, reads too high. A meter that shows less may be right.
 *
 * Uses one-sided 95 % (1.645 standard uncertainties of the difference). Holds at the drive current
 * and temperature of the maker's value only.
 *
 * @throws argument-wrong for powers that are not above 0
 *
 * Source: common practice, no source; the quantile is that of the normal distribution.
 */
export function asNewBound(input: AsNewInput): AsNewResult {
  const { now, asNew } = requireOptions(input, { now: POWER, asNew: POWER });
  const ratio = `${significant(now.value_mW, 4)} mW now against ${significant(asNew.value_mW, 4)} mW as new`;
  if (now.value_mW <= asNew.value_mW) {
    return {
      verdict: 'possible',
      atLeast: null,
      why: `${ratio}: a source can lose power with age, so nothing follows about the meter.`,
    };
  }
  if (now.standardUncertainty_mW === null || asNew.standardUncertainty_mW === null) {
    return {
      verdict: null,
      atLeast: null,
      why: `${ratio}: more than as new, but without both uncertainties stated that decides nothing.`,
    };
  }
  const margin = 1.645 * Math.hypot(now.standardUncertainty_mW, asNew.standardUncertainty_mW);
  const excess = now.value_mW - asNew.value_mW - margin;
  if (excess <= 0) {
    return { verdict: 'possible', atLeast: null, why: `${ratio}: within both uncertainties.` };
  }
  const atLeast = now.value_mW / (now.value_mW - excess) - 1;
  return {
    verdict: 'too-high',
    atLeast,
    why: `${ratio}: a diode does not gain power with age, so this meter reads too high, by at least ${percent(atLeast)}, unless the source runs at a higher current or a lower temperature than at its maker's.`,
  };
}

/** Said wherever a value is compared whose calibration nobody related to that of the reference. */
export const TAKEN_AS_INDEPENDENT =
  'The value is taken to lean on nothing that the reference leans on, and the source to have given the same power then: a value calibrated against this reference agrees too easily.';

export interface WhichMeterInput {
  readonly reference: StatedPower;
  readonly candidate: StatedPower;
  readonly opinion: StatedPower;
  readonly kind: 'certificate' | 'maker' | 'third-meter';
  /** Standard uncertainty in mW that the outside value shares with the reference (default 0). */
  readonly commonWithReference_mW?: number;
}

export interface WhichMeterResult {
  readonly supports: MeterRole | 'both' | 'neither' | 'undecided';
  readonly why: string;
}

/**
 * Which of two meters does an outside value speak for?
 *
 * Certificate or third meter: by zeta scores; one meter is supported when it agrees (|ζ| ≤ 2) and
 * the other disagrees (|ζ| ≥ 3). Maker's as-new value: only a meter that shows too much is ruled out.
 */
export function whichMeterIsRight(input: WhichMeterInput): WhichMeterResult {
  requireOptions(input, {
    reference: true,
    candidate: true,
    opinion: true,
    kind: ['certificate', 'maker', 'third-meter'],
    commonWithReference_mW: true,
  });
  const verdicts = METERS.map((role) => ({
    role,
    ...(input.kind === 'maker'
      ? byBound(asNewBound({ now: input[role], asNew: input.opinion }))
      : byScore(
          compatibilityScore({
            ours: input[role],
            theirs: input.opinion,
            commonStandardUncertainty_mW:
              role === 'reference' ? (input.commonWithReference_mW ?? 0) : 0,
          }),
        )),
  }));
  const ruledOut = verdicts.filter((one) => one.ruledOut);
  const upheld = verdicts.filter((one) => one.upheld);
  const detail = verdicts
    .map((one) => `${one.role === 'reference' ? 'Reference' : 'Candidate'}: ${one.why}`)
    .join(' ');
  const answer = (supports: WhichMeterResult['supports'], why: string) => ({
    supports,
    why: `${why} ${detail}`,
  });
  if (ruledOut.length === 2) return answer('neither', 'The outside value contradicts both meters.');
  if (ruledOut.length === 1) {
    const other = verdicts.find((one) => !one.ruledOut)!;
    if (other.upheld) return answer(other.role, `The outside value speaks for the ${other.role}.`);
    return answer(
      'undecided',
      `The ${ruledOut[0].role} is contradicted; that does not show the ${other.role} to be right.`,
    );
  }
  if (upheld.length === 2)
    return answer('both', 'The outside value agrees with both meters and cannot tell them apart.');
  return answer('undecided', 'The outside value does not decide between the meters.');
}

const byScore = (score: ScoreResult) => ({
  ruledOut: score.verdict === 'disagrees',
  upheld: score.verdict === 'agrees',
  why: score.why,
});

const byBound = (bound: AsNewResult) => ({
  ruledOut: bound.verdict === 'too-high',
  // An upper bound never upholds a meter.
  upheld: false,
  why: bound.why,
});

const percent = (value: number) => percentOf(Math.abs(value));
