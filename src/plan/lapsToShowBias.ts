import { percentText } from '../findings/formatNumber.js';
import { coverageFactor } from '../statistics/distributions.js';
import { effectiveDof } from '../statistics/effectiveDof.js';
import { noncentralStudentCdf } from '../statistics/noncentralStudent.js';
import { CONFIDENCE, requireOptions } from '../statistics/options.js';
import { type PlanOptions, searchLaps } from './searchLaps.js';

export interface LapsToShowBiasOptions extends PlanOptions {
  /** Size of the bias to be shown: |ln(candidate ÷ reference)|, for a few percent the fraction. */
  readonly bias: number;
  /** Wanted probability of showing it when it is there, for example 0.8. */
  readonly power: number;
}

export interface LapsToShowBias {
  readonly laps: number | null;
  /** Probability at that many laps (at the most looked at when `laps` is `null`). */
  readonly power: number;
  readonly dof: number;
  readonly sentence: string;
}

/**
 * How many laps of one series does it take to show a bias of a given size? Two-sided t test of the
 * meter effect. What a placement moves is no bias of the meter: it belongs into `others`.
 *
 * @throws argument-wrong for a bias not above zero or a power outside 0 to 1, and as
 *   `designUncertainty`
 * @see J. Cohen, Statistical Power Analysis for the Behavioral Sciences (1988), chapter 2; the
 *   power is that of noncentral t
 */
export function lapsToShowBias(options: LapsToShowBiasOptions): LapsToShowBias {
  requireOptions(options, {
    order: true,
    referenceSd: true,
    candidateSd: true,
    driftDegree: true,
    confidence: CONFIDENCE,
    others: true,
    mostLaps: true,
    bias: 'above-zero',
    power: 'fraction',
  });
  const { bias, power, confidence = 0.95 } = options;
  const found = searchLaps(options, (parts) => {
    const u = Math.hypot(...parts.map((part) => part.standard_uncertainty));
    const dof = effectiveDof(parts);
    const reached = biasPower({ bias, standardUncertainty: u, dof, confidence });
    return { answer: { power: reached, dof }, enough: reached >= power };
  });
  const chance = (p: number) => `${Math.floor(100 * p)} %`;
  const sentence =
    found.laps !== null
      ? `${found.laps} laps show a bias of ${percentText(bias)}, if it is there, with a probability of ${chance(found.answer.power)}.`
      : `Not within ${found.tried} laps: a bias of ${percentText(bias)} would be shown with a probability of only ${chance(found.answer.power)}.`;
  return { laps: found.laps, power: found.answer.power, dof: found.answer.dof, sentence };
}

/**
 * With what probability does a two-sided t test show a bias that is there?
 *
 * @throws argument-wrong for degrees of freedom out of range
 */
export function biasPower(options: {
  readonly bias: number;
  readonly standardUncertainty: number;
  readonly dof: number;
  readonly confidence?: number;
}): number {
  const {
    bias,
    standardUncertainty,
    dof,
    confidence = 0.95,
  } = requireOptions(options, {
    bias: 'number',
    standardUncertainty: 'not-negative',
    dof: true,
    confidence: CONFIDENCE,
  });
  if (bias === 0) return 1 - confidence;
  const critical = coverageFactor(confidence, dof);
  // Beyond a thousand the power is 1 to every digit, unless t itself has a tail as long.
  const shift = Math.min(Math.abs(bias) / standardUncertainty, 1e3 * critical, 1e5);
  return (
    1 - noncentralStudentCdf(critical, dof, shift) + noncentralStudentCdf(-critical, dof, shift)
  );
}
