/** Verdicts in plain words, the same on the page and in the terminal. */
import { classRank, parseLabelClass } from '../hazard/labelClass.js';
import { runsOn } from '../record/meters.js';
import { COUNTS_AS_SETTLED, timeToSettle } from '../settle/missingFraction.js';
import type {
  HazardResult,
  Interval,
  Result,
  Study,
  WavelengthResult,
  WavelengthVerdict,
} from '../vocabulary.js';
import {
  formatAlike,
  formatEstimate,
  formatNumber,
  formatPower,
  formatProbability,
} from './formatNumber.js';

export const NOT_STATED = 'not stated';

/** A few words for a verdict. */
export const VERDICT_WORDS: Readonly<Record<WavelengthVerdict, string>> = {
  'within-tolerance': 'serves as it is',
  'correct-it': 'correct it',
  'not-shown': 'not shown to serve uncorrected',
  inconclusive: 'this data cannot tell you',
};

/** Whether a factor may be put on the card. */
export function isSettled(one: WavelengthResult): boolean {
  return one.verdict !== 'inconclusive' && one.factor !== null;
}

/** The zone a source is in, of three: its class with uncertainty to spare, not to be excluded, not judged. */
export function hazardZone({
  class: worst,
  reading_class: reading,
  decided,
}: HazardResult): string {
  if (worst === null) return 'not judged: treat it as more hazardous than its power suggests';
  if (decided) return `class ${worst}`;
  return `class ${worst} cannot be excluded${reading === null ? '' : `; the reading by itself: class ${reading}`}`;
}

/** The class in a few words: the highest that the data cannot exclude. */
export function hazardClassWords({ class: worst, decided }: HazardResult): string {
  if (worst === null) return 'not judged: treat as more hazardous';
  return decided ? `class ${worst} by this data` : `class ${worst} cannot be excluded`;
}

/** What the label says and whether that holds. */
export function labelWords(hazard: Pick<HazardResult, 'label_class' | 'label_max_mW'>): string {
  const parts = [
    hazard.label_class === null ? null : `class ${hazard.label_class}`,
    hazard.label_max_mW === null ? null : `at most ${formatPower(hazard.label_max_mW)}`,
  ].filter((part) => part !== null);
  return parts.length === 0 ? NOT_STATED : parts.join(', ');
}

/** Whether the label holds; "shown" only when the readings by themselves already exceed it. */
export function labelVerdict(hazard: HazardResult): string {
  if (hazard.label_understates === false) return 'label not contradicted';
  if (hazard.label_understates === null) {
    return hazard.label_class === null && hazard.label_max_mW === null
      ? 'no label to compare with'
      : 'label neither shown right nor wrong';
  }
  return exceedsLabel(hazard)
    ? 'more hazardous than labelled'
    : 'may be more hazardous than labelled: treat it as such';
}

function exceedsLabel(hazard: HazardResult): boolean {
  const { reading_class: reading, highest_mW: highest, label_max_mW: max } = hazard;
  if (highest !== null && max !== null && highest > max) return true;
  const label = hazard.label_class === null ? null : parseLabelClass(hazard.label_class).highest;
  return reading !== null && label !== null && classRank(reading) > classRank(label);
}

/** The sentence that belongs to every factor. */
export const direction = (result: Result, study?: Study): string =>
  `Corrected power = factor × what the candidate shows${howToRead(result, study)}. The factor is K = reference ÷ candidate.`;

/** How the candidate has to be read for the factors to hold, as the end of a sentence. */
export function howToRead({ reading }: Result, study?: Study): string {
  const { kind, read_at_s: readAt, candidate_time_constant_s: tau } = reading;
  const wait =
    kind === 'settled' && tau !== null ? Math.ceil(timeToSettle(COUNTS_AS_SETTLED, tau)) : null;
  const zeroed = study?.series.some(({ runs }) =>
    runsOn(runs, 'candidate').some(({ zero_mW }) => (zero_mW ?? 0) !== 0),
  );
  return [
    wait === null ? '' : ` no earlier than ${wait} s after switch-on`,
    kind === 'as-read' && readAt !== null ? ` ${formatNumber(readAt)} s after switch-on` : '',
    zeroed ? ', less what it shows with the beam blocked' : '',
  ].join('');
}

/** "95 %". */
export function confidenceWords(confidence: number): string {
  return formatNumber(confidence, { as: 'percent', digits: 4 });
}

/** `null` when the reference states an uncertainty. */
export function referenceOnly(study: Study): string | null {
  return study.reference.expanded_uncertainty_percent === null
    ? 'The reference states no uncertainty of its own, so every factor here is relative to this reference only: how far the reference itself is off is not in any interval.'
    : null;
}

/** "45 to 47", as the candidate shows it, in mW: not rounded to anything. */
export function rangeWords([low, high]: Interval): string {
  return low === high ? `${formatNumber(low)} only` : formatAlike([low, high]).join(' to ');
}

/** Where a correction is given beside the measured wavelengths and powers, and where not. */
export const BEYOND_WORDS =
  'Between levels of power the factor runs from one to the next, below the lowest and above the highest down to half and up to twice with more uncertainty, and no further. Between wavelengths the middle of both neighbours is taken, with all between them in the uncertainty; beyond the outer ones no factor is given.';

export const LASER_CAUTIONS: readonly string[] = [
  'Indicative only: one unit, on one occasion, continuous-wave light. Cold and warm, fresh and weak batteries, other settings and infrared that no filter separated are not covered unless they were measured.',
  'Never lower a class, remove a label or choose weaker eyewear because of this report. Never look into the beam or at its reflection; end it on a matt beam stop.',
  'The standard IEC 60825-1, the rules where you work and a laser safety officer decide; this report decides nothing about safety.',
];

/** Whether a reading corrected on another day may be off by more than the tolerance. */
export function isBeyondTolerance(one: WavelengthResult, tolerance_percent: number): boolean {
  const relative = one.corrected_reading_relative_U;
  return relative !== null && 100 * relative > tolerance_percent;
}

/** Whether one factor serves all wavelengths, with its number where it does. */
export function commonWords({ common_factor: common }: Pick<Result, 'common_factor'>): string {
  const p =
    common.p === null ? '' : ` (test of equal factors: p ${withSign(formatProbability(common.p))})`;
  const factor =
    common.supported && common.factor !== null
      ? ` ${formatEstimate(common.factor, common.low, common.high)}.`
      : '';
  return `${common.supported ? 'Supported' : 'Not supported'}${p}. ${common.why}${factor}`;
}

/** "= 0.02", "< 0.001". */
export function withSign(probability: string): string {
  return /^[<>]/.test(probability) ? probability : `= ${probability}`;
}
