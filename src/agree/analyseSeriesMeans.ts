/** What the means of the series say of agreement, beyond bias and limits. */

import { eachMeter } from '../record/meters.js';
import { sentences } from '../statistics/sentences.js';
import { mean } from '../statistics/summary.js';
import { wilcoxonSignedRank } from '../statistics/wilcoxonSignedRank.js';
import type {
  AgreementResult,
  ComparedSeries,
  ConcordanceResult,
  EquivalenceResult,
  LapPair,
  ProportionalBiasResult,
  RatioAgreement,
  SignedRankResult,
  Study,
} from '../vocabulary.js';
import { analyseAgainstLevel } from './analyseAgainstLevel.js';
import { concordance } from './concordance.js';
import { type Equivalence, equivalenceOfRatio } from './equivalence.js';
import type { PairedReadings } from './pairedLevels.js';
import { proportionalBias } from './proportionalBias.js';
import { back, limitsBack, logarithmsOf, ratioLimits } from './ratioLimits.js';
import { replicateLimits } from './replicateLimits.js';

/** K by wavelength and candidate indication in mW; `null` where there is none. */
export type FactorByPower = (wavelength_nm: number, candidate_mW: number) => number | null;

export type SeriesMeansAgreement = Pick<
  AgreementResult,
  | 'ratio_limits'
  | 'wilcoxon'
  | 'equivalence'
  | 'proportional_bias'
  | 'against_level'
  | 'concordance'
>;

/**
 * The series is the unit throughout: laps of one series repeat what is peculiar to it, and counted
 * as independent they would claim far too much.
 *
 * @param used series with laps
 * @param factorAt factor by wavelength and candidate indication; `null` where there is none
 */
export function analyseSeriesMeans(
  study: Study,
  used: readonly ComparedSeries[],
  factorAt: FactorByPower,
): SeriesMeansAgreement {
  const logs = used.map(({ laps }) => logarithmsOf(laps.map(ratio)));
  const means = logs.map((group) => mean(group));
  // A series alone at its wavelength is corrected to 1 by construction and shows nothing.
  const repeated = used.map(
    ({ result }) =>
      used.filter((one) => one.result.wavelength_nm === result.wavelength_nm).length > 1,
  );
  const corrected = used.flatMap(({ result, laps }, i) => {
    const shown = Math.exp(mean(laps.map((lap) => Math.log(lap.candidate.reading_mW))));
    const factor = factorAt(result.wavelength_nm, shown);
    return factor === null || !repeated[i] ? [] : [means[i] + Math.log(factor)];
  });
  const pairs = eachMeter((meter) =>
    used.map(({ laps }) => Math.exp(mean(laps.map((lap) => Math.log(lap[meter].reading_mW))))),
  );
  return {
    ratio_limits: ratioAgreement(logs, study),
    wilcoxon: signedRank(
      used.map(({ laps }) => mean(laps.map((lap) => 100 * (ratio(lap) - 1)))),
      study,
    ),
    equivalence: {
      before: equivalence(means, study, ''),
      after: equivalence(
        corrected,
        study,
        ' Judged on the same data that the factors come from, where the mean is near 1 by construction (a series alone at its wavelength is 1 exactly and does not count): new runs are the test, and the error of series left out says what to expect of them.',
      ),
    },
    proportional_bias: bias(
      pairs,
      study,
      new Set(used.map(({ result }) => result.wavelength_nm)).size,
    ),
    against_level: analyseAgainstLevel(study, used),
    concordance: sideNote(pairs, study),
  };
}

const ratio = (lap: LapPair) => lap.candidate.reading_mW / lap.reference.reading_mW;

function ratioAgreement(logs: readonly (readonly number[])[], study: Study): RatioAgreement {
  const { confidence, limits_multiplier: multiplier } = study;
  if (logs.every((group) => group.length === 1)) {
    const {
      n: _,
      log_sd: __,
      ...found
    } = ratioLimits(
      logs.map(([value]) => Math.exp(value)),
      { confidence, multiplier },
    );
    const why = logs.length < 2 ? 'Limits of agreement need at least two series.' : '';
    return { ...found, why };
  }
  const all = replicateLimits(logs, { confidence, multiplier });
  return {
    ratio: back(all.bias),
    low: back(all.bias_low),
    high: back(all.bias_high),
    limits: limitsBack(all),
    why: all.why,
  };
}

function signedRank(percents: readonly number[], { confidence }: Study): SignedRankResult {
  // What rounding leaves in a mean must not show: twice as many of the same laps give the same result.
  const values = percents.map((value) => Number(value.toPrecision(12)));
  const found = wilcoxonSignedRank(values, { confidence });
  return {
    series: found.n,
    p: found.p,
    estimate_percent: found.estimate,
    low_percent: found.low,
    high_percent: found.high,
    achieved_confidence: found.achieved_confidence,
    why: found.why.replace(/^(\d+) values/, '$1 series'),
  };
}

function equivalence(logs: readonly number[], study: Study, caution: string): EquivalenceResult {
  const margins = [1 - study.tolerance, 1 + study.tolerance] as const;
  const found: Equivalence = equivalenceOfRatio(logs.map(Math.exp), {
    low: margins[0],
    high: margins[1],
    alpha: 1 - study.confidence,
  });
  return {
    decision: found.decision,
    confidence: found.confidence,
    ratio: found.estimate,
    low: found.low,
    high: found.high,
    p: found.p,
    margins,
    why: `${found.why} It speaks of the mean over series relative to this reference, whose own error is not in it, and not of a single reading.${caution}`,
  };
}

function bias(pairs: PairedReadings, study: Study, wavelengths: number): ProportionalBiasResult {
  const none = { slope: null, low: null, high: null, p: null, range_mW: null };
  const levels = pairs.reference.map((value, i) => Math.sqrt(value * pairs.candidate[i]));
  if (levels.length < 4) {
    return {
      ...none,
      why: `A line against the level needs four series; there are ${levels.length}.`,
    };
  }
  const range = [Math.min(...levels), Math.max(...levels)] as const;
  if (!(range[1] >= 1.05 * range[0])) {
    return { ...none, range_mW: range, why: 'All series lie at about the same power.' };
  }
  const { bias: line } = proportionalBias(pairs, { scale: 'log', confidence: study.confidence });
  const colour =
    wavelengths > 1
      ? ' The series differ in wavelength as well as in power, so a slope may be one of colour.'
      : '';
  return {
    slope: line.slope,
    low: line.slope_interval[0],
    high: line.slope_interval[1],
    p: line.slope_p,
    range_mW: range,
    why: `A meter noisier than the other makes a slope too.${colour}`,
  };
}

function sideNote(pairs: PairedReadings, { confidence }: Study): ConcordanceResult {
  if (pairs.reference.length < 3) {
    const none = { value: null, low: null, high: null, precision: null, accuracy: null };
    return {
      ...none,
      why: `A concordance correlation needs three series; there are ${pairs.reference.length}.`,
    };
  }
  const { standard_error_z: _, ...found } = concordance(pairs, { confidence });
  const caution =
    'A side note: it depends on the range of powers and says nothing of how many percent a reading may be off.';
  return { ...found, why: sentences([found.why, caution]) };
}
