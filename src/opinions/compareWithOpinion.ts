/** One value from elsewhere against the power of its source on the two meters. */

import { meterAt, statedRelative } from '../readings/certificate.js';
import type { Steps } from '../readings/displayStep.js';
import { eachMeter } from '../record/meters.js';
import { stepUncertainty } from '../statistics/roundedDisplay.js';
import type {
  Meter,
  MeterRole,
  Opinion,
  OpinionComparison,
  OpinionResult,
  Study,
} from '../vocabulary.js';
import { isDoubledLine } from '../wavelengths/infraredLeak.js';
import {
  asNewBound,
  compatibilityScore,
  type ScoreResult,
  type StatedPower,
  TAKEN_AS_INDEPENDENT,
  whichMeterIsRight,
} from './secondOpinion.js';

/** The power of a source as both meters show it. */
export interface SourcePower {
  readonly series: readonly string[];
  readonly wavelength_nm: number;
  readonly reference: { readonly value_mW: number; readonly relative_sd: number };
  readonly candidate: { readonly value_mW: number; readonly relative_sd: number };
  /** What taking a meter away and putting it back does, as a fraction. */
  readonly placement: number;
  readonly factor: {
    readonly value: number;
    readonly relative_standard_uncertainty: number;
  } | null;
  readonly steps: Steps;
  /** Whether it is the power of the wanted line alone, told apart by a filter. */
  readonly isolated: boolean;
}

/** What every comparison with one value asks. */
interface Compared {
  readonly opinion: Opinion;
  readonly theirs: StatedPower;
  /** Part of both standard uncertainties that the value and the reference owe to one cause, mW. */
  readonly common: number;
  /** Why nothing can be compared; empty when it can. */
  readonly blocked: string;
}

/** @param power the power, or why the source has no single one */
export function compareWithOpinion(
  study: Study,
  opinion: Opinion,
  power: SourcePower | string,
): OpinionResult {
  const source = study.sources.find((one) => one.name === opinion.source);
  const nm = typeof power === 'string' ? (source?.wavelength_nm ?? 0) : power.wavelength_nm;
  const theirs: StatedPower = {
    value_mW: opinion.value_mW,
    standardUncertainty_mW: statedUncertainty(opinion),
  };
  const base = {
    source: opinion.source,
    wavelength_nm: nm,
    kind: opinion.kind,
    date: opinion.date,
    value_mW: opinion.value_mW,
    standard_uncertainty_mW: theirs.standardUncertainty_mW,
  };
  if (typeof power === 'string') {
    return { ...base, series: [], comparisons: [], supports: 'undecided', why: power };
  }
  const meters = { reference: meterAt(study.reference, nm), candidate: study.candidate };
  const ours = eachMeter((meter) => meterPower(meters[meter], power));
  const blocked = notComparable(opinion, theirs, ours.reference, isDoubledLine(nm));
  const common = opinion.common_standard_uncertainty_mW ?? 0;
  const judged = judgement({ opinion, theirs, common, blocked }, ours);
  return {
    ...base,
    series: power.series,
    comparisons: comparisonsWith({ opinion, theirs, common, blocked }, meters, ours, power),
    supports: judged.supports,
    why: [judged.why, ...assumptions(opinion, power, common)].join(' '),
  };
}

type Ours = Readonly<Record<MeterRole, StatedPower>>;

/** Which meter the value speaks for. */
function judgement({ opinion, theirs, common, blocked }: Compared, ours: Ours) {
  if (blocked !== '') return { supports: 'undecided' as const, why: blocked };
  return whichMeterIsRight({
    ...ours,
    opinion: theirs,
    kind: opinion.kind,
    commonWithReference_mW: common,
  });
}

/** The reference, the candidate as it is, and the candidate corrected, each against the value. */
function comparisonsWith(
  compared: Compared,
  meters: Readonly<Record<MeterRole, Meter>>,
  ours: Ours,
  power: SourcePower,
): readonly OpinionComparison[] {
  const stated = (meter: MeterRole) => statedRelative(meters[meter]) !== null;
  return [
    comparison(compared, 'reference', ours.reference, stated('reference')),
    comparison(compared, 'candidate', ours.candidate, stated('candidate')),
    ...(power.factor === null
      ? []
      : [
          comparison(
            compared,
            'corrected-candidate',
            correctedPower(power, power.factor),
            stated('reference'),
          ),
        ]),
  ];
}

/** @param stated whether a calibration stands behind this meter's reading */
function comparison(
  { opinion, theirs, common, blocked }: Compared,
  meter: OpinionComparison['meter'],
  own: StatedPower,
  stated: boolean,
): OpinionComparison {
  const difference = own.value_mW - theirs.value_mW;
  const plain = {
    meter,
    value_mW: own.value_mW,
    standard_uncertainty_mW: own.standardUncertainty_mW,
    calibration_stated: stated,
    difference_mW: difference,
    difference_percent: (100 * difference) / theirs.value_mW,
    zeta: null,
    en: null,
    verdict: null,
    too_high_at_least_percent: null,
  };
  if (blocked !== '') return { ...plain, why: blocked };
  if (opinion.kind === 'maker') {
    const bound = asNewBound({ now: own, asNew: theirs });
    return {
      ...plain,
      verdict: bound.verdict,
      too_high_at_least_percent: bound.atLeast === null ? null : 100 * bound.atLeast,
      why: bound.why,
    };
  }
  // Only what leans on the reference shares its calibration with the value.
  const shared = meter === 'candidate' ? 0 : common;
  const score = compatibilityScore({ ours: own, theirs, commonStandardUncertainty_mW: shared });
  return { ...plain, ...scores(score, stated), why: scoreWords(score, stated) };
}

/**
 * Standard uncertainty in mW; `null` without an expanded uncertainty or without its coverage factor:
 * neither is assumed.
 */
export function statedUncertainty(opinion: Opinion): number | null {
  const { expanded_uncertainty_mW: U, coverage_factor: k } = opinion;
  return U === null || k === null ? null : U / k;
}

function meterPower(meter: Meter, power: SourcePower): StatedPower {
  const { value_mW, relative_sd } = power[meter.role];
  const calibration = statedRelative(meter) ?? 0;
  const u = Math.hypot(relative_sd, power.placement, calibration, rounding(meter.role, power));
  return { value_mW, standardUncertainty_mW: value_mW * u };
}

/** Standard uncertainty of the display's step, as a fraction of the reading. */
function rounding(meter: MeterRole, power: SourcePower): number {
  return stepUncertainty(power.steps[meter] ?? 0) / power[meter].value_mW;
}

function correctedPower(
  power: SourcePower,
  factor: NonNullable<SourcePower['factor']>,
): StatedPower {
  const value_mW = factor.value * power.candidate.value_mW;
  const u = Math.hypot(factor.relative_standard_uncertainty, power.candidate.relative_sd);
  return { value_mW, standardUncertainty_mW: value_mW * u };
}

/** Why no comparison is possible at all; empty when there is one. */
function notComparable(
  opinion: Opinion,
  theirs: StatedPower,
  reference: StatedPower,
  doubled: boolean,
): string {
  if (opinion.kind === 'maker' && doubled) {
    return 'A frequency-doubled source, as most are at this wavelength, swings with temperature and may well give more than its maker saw: nothing follows.';
  }
  const common = opinion.common_standard_uncertainty_mW ?? 0;
  const u = theirs.standardUncertainty_mW;
  if (u !== null && common > Math.min(u, reference.standardUncertainty_mW ?? 0)) {
    return 'The common uncertainty is larger than that of the value or of the reference, of which it should be a part.';
  }
  return '';
}

const scores = (score: ScoreResult, stated: boolean) => ({
  zeta: score.zeta,
  // E_n compares two stated claims; scatter alone is none.
  en: stated ? score.en : null,
  verdict: score.verdict,
});

function scoreWords(score: ScoreResult, stated: boolean): string {
  return stated || score.zeta === null
    ? score.why
    : `${score.why} No calibration of this meter is stated, so only scatter and placement count on its side: the question is whether it reads off as it is.`;
}

function assumptions(opinion: Opinion, power: SourcePower, common: number): string[] {
  const unstated =
    opinion.expanded_uncertainty_mW !== null && opinion.coverage_factor === null
      ? ['Its expanded uncertainty comes without a coverage factor, and none is assumed.']
      : [];
  const shared =
    opinion.kind === 'maker'
      ? []
      : common > 0
        ? ['What the value shares with the reference is taken out of the comparison.']
        : [TAKEN_AS_INDEPENDENT];
  const isolated = power.isolated
    ? [
        'Compared with the power of the wanted line alone, which a filter told apart from other light; whether the value counts that light too is not known.',
      ]
    : [];
  const averaged =
    opinion.averaged_over_s === undefined
      ? []
      : [
          `The value is an average over ${opinion.averaged_over_s} s, and each reading here is of one moment: of a source that droops the average is lower. A trace as long tells (settle).`,
        ];
  return [...unstated, ...shared, ...isolated, ...averaged];
}
