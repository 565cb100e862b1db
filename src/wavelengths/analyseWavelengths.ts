/** Series → the factor of each wavelength, by level of power, with its full uncertainty budget. */

import { coverageOfBudget } from '../budget/coverageOfBudget.js';
import { nextStep } from '../budget/nextImprovement.js';
import { clusterByPower } from '../power/clusterByPower.js';
import { meterAt } from '../readings/certificate.js';
import type { SeriesAnalysis } from '../series/analyseSeries.js';
import { combineSeries, pooledBetweenSeries } from '../series/combineSeries.js';
import { readingScatter } from '../series/readingScatter.js';
import { WIDEST_FACTOR } from '../series/seriesFactor.js';
import { combineIndependent } from '../statistics/combineIndependent.js';
import { sentences } from '../statistics/sentences.js';
import { hull } from '../statistics/summary.js';
import { LEAST_LAPS, type Study, type Warning, type WavelengthResult } from '../vocabulary.js';
import type { WavelengthEstimate } from './commonFactor.js';
import { isDoubledLine } from './infraredLeak.js';
import type { WavelengthInput } from './wavelengthBudget.js';
import { REFERENCE_CALIBRATION } from './wavelengthContributions.js';
import { type Answer, oneLevel, pointOf, seatings, severalLevels } from './wavelengthLevels.js';
import { contradiction, type Member, member, singleLaps } from './wavelengthMembers.js';
import { powers, verdictOf } from './wavelengthVerdict.js';
import { neighbours, type Objection, openSlips, shortSeries, wrongSettings } from './withheld.js';

export interface WavelengthAnalysis {
  readonly results: readonly WavelengthResult[];
  /** For the common factor: without what all wavelengths share. */
  readonly estimates: readonly WavelengthEstimate[];
  readonly warnings: readonly Warning[];
}

/** One result per wavelength, in ascending order. */
export function analyseWavelengths(input: WavelengthInput): WavelengthAnalysis {
  const { study } = input;
  const isIsolated = ({ result }: SeriesAnalysis) => !input.unisolated.has(result.id);
  const wavelengths = [...new Set(input.series.map(({ result }) => result.wavelength_nm))].sort(
    (a, b) => a - b,
  );
  const groups = wavelengths.map((nm) => {
    const all = input.series.filter(({ result }) => result.wavelength_nm === nm);
    return { nm, all, members: all.filter(isIsolated).flatMap(member) };
  });
  // Series of one power alone: a factor that changes with the power is no placement. And what may
  // hold infrared differs for reasons of its own, which say nothing of other wavelengths.
  // Nor does a series with an open slip.
  const lends = ({ analysis: { result } }: Member) =>
    !input.suspects.some((one) => one.series === result.id) &&
    (!isDoubledLine(result.wavelength_nm) || isBehindFilter(study, result.id));
  const placement = pooledBetweenSeries(
    groups.flatMap((group) => seatings(group.members.filter(lends))),
    study.between_series,
    study.protocol.placement,
  );
  const warnings: Warning[] = [];
  const results: WavelengthResult[] = [];
  const estimates: WavelengthEstimate[] = [];
  const objections: Objection[] = [];
  for (const { nm, all, members } of groups) {
    const answer = answerOf(nm, members, all.filter(isIsolated), placement, input);
    if (answer === null) {
      results.push(nothing(nm, all));
      continue;
    }
    if (!(answer.high - answer.low <= 2 * Math.log(WIDEST_FACTOR))) {
      const wide = `The interval of K would reach beyond a factor of ${WIDEST_FACTOR} either way.`;
      results.push(nothing(nm, all, wide));
      continue;
    }
    if (answer.contradiction !== null) warnings.push(contradiction(nm, answer.members));
    results.push(wavelengthResult(answer, input));
    const estimate = withoutShared(answer);
    estimates.push(estimate);
    const speaking = answer.members.map(({ analysis }) => analysis);
    const short = all.filter(
      (one) => isIsolated(one) && one.laps.length > 0 && !speaking.includes(one),
    );
    objections.push(
      ...openSlips(nm, all, input.suspects),
      ...wrongSettings(nm, all, input.readings),
      ...shortSeries(estimate, short, study),
    );
  }
  objections.push(...neighbours(estimates, study));
  return {
    results: results.map((one) => withheld(one, objections)),
    estimates,
    warnings: [...warnings, ...objections.flatMap(({ warning }) => warning ?? [])],
  };
}

/** K of a wavelength by its levels of power; `null` where no series tells it. */
function answerOf(
  nm: number,
  members: readonly Member[],
  isolated: readonly SeriesAnalysis[],
  placement: ReturnType<typeof pooledBetweenSeries>,
  input: WavelengthInput,
): Answer | null {
  if (members.length === 0) {
    const single = singleLaps(isolated);
    return single === null ? null : oneLevel(nm, single.members, single.combined, input);
  }
  if (clusterByPower(members.flatMap(pointOf)).length > 1) {
    return severalLevels(nm, members, placement, input);
  }
  const combined = combineSeries(
    members.map(({ estimate }) => estimate),
    placement,
  );
  return oneLevel(nm, members, combined, input);
}

/** No verdict where something has to be found out first; the numbers stand. */
function withheld(result: WavelengthResult, objections: readonly Objection[]): WavelengthResult {
  const reasons = objections
    .filter((one) => one.wavelength_nm === result.wavelength_nm)
    .flatMap(({ reason }) => reason ?? []);
  return reasons.length === 0
    ? result
    : {
        ...result,
        verdict: 'inconclusive',
        next_step: 'Settle that first: until then more laps do not help.',
        improvement: null,
        why: reasons.join(' '),
      };
}

const isBehindFilter = (study: Study, id: string): boolean =>
  study.series.some((one) => one.id === id && one.filter !== null);

function wavelengthResult(answer: Answer, { study }: WavelengthInput): WavelengthResult {
  const { nm, members, next, standardUncertainty: u } = answer;
  const half = (answer.high - answer.low) / 2;
  const { onAnotherDay, oneReading } = readingReach(answer, study);
  const judged = verdictOf(answer, {
    tolerance: study.tolerance,
    oneReading,
    onAnotherDay,
    placementStated: study.between_series !== null,
  });
  const improvement = improvementOf(answer, study);
  const relative =
    meterAt(study.reference, nm).expanded_uncertainty_percent === null
      ? 'Relative to this reference only.'
      : '';
  return {
    wavelength_nm: nm,
    series: members.map(({ analysis }) => analysis.result.id),
    factor: Math.exp(answer.logFactor),
    low: Math.exp(answer.low),
    high: Math.exp(answer.high),
    dof: answer.dof,
    relative_standard_uncertainty: u,
    relative_expanded_uncertainty: Math.expm1(half),
    coverage_factor: u > 0 ? half / u : 2,
    between_series_relative_sd: answer.betweenSd,
    next_series_relative_sd: next.sd,
    next_series_dof: next.dof,
    corrected_reading_relative_U: onAnotherDay,
    budget: answer.budget,
    not_in_budget: answer.missing.map(({ text }) => text),
    levels: answer.levels,
    by_power: answer.byPower,
    candidate_range_mW: hull(answer.levels.map(({ candidate_mW }) => candidate_mW)),
    verdict: judged.verdict,
    next_step: improvement.sentence,
    improvement: improvement.step,
    why: sentences([judged.why, relative]),
  };
}

/**
 * How well a later reading is known: corrected, on another day; and as it is, on the log scale. Where K
 * goes by the power, at the level whose factor is known least.
 */
function readingReach({ members, leastKnown, next }: Answer, { confidence }: Study) {
  const { inputs, half } = leastKnown;
  const scatter = readingScatter(members.map(({ analysis }) => analysis.result));
  const part = (relative_standard_uncertainty: number, dof: number) => ({
    relative_standard_uncertainty,
    dof,
    shape: 'student' as const,
  });
  const placed = [...inputs, part(next.sd, next.dof)];
  const scattered = [...placed, part(scatter.reading_relative_sd, scatter.reading_dof)];
  return {
    onAnotherDay: Math.expm1(Math.max(half, coverageOfBudget(placed, confidence).high)),
    oneReading: () => coverageOfBudget(scattered, confidence).high,
  };
}

/** Each level of power has a factor of its own, so what has to improve is the one known least. */
function improvementOf({ leastKnown, missing }: Answer, { confidence, tolerance }: Study) {
  const { candidate_mW, members, inputs, half } = leastKnown;
  const laps = members.reduce((sum, { analysis }) => sum + analysis.laps.length, 0);
  const { sentence, step } = nextStep(
    { budget: inputs, confidence, wanted: tolerance, ...(laps > 0 ? { laps } : {}), missing },
    Math.expm1(half),
  );
  const where = candidate_mW === null ? '' : `At ${powers(candidate_mW)}: `;
  return { sentence: `${where}${sentence}`, step: `${where}${step}` };
}

/** The estimate that may be compared with another wavelength's: no shared calibration in it. */
function withoutShared({ nm, logFactor, inputs }: Answer): WavelengthEstimate {
  const own = inputs
    .filter((one) => one.name !== REFERENCE_CALIBRATION)
    .map((one) => ({ standardUncertainty: one.relative_standard_uncertainty, dof: one.dof }));
  return { wavelength_nm: nm, logFactor, ...combineIndependent(own) };
}

function nothing(
  nm: number,
  all: readonly SeriesAnalysis[],
  head = 'No series at this wavelength gives a factor.',
): WavelengthResult {
  const reasons = [...new Set(all.map(({ result }) => result.why))].join(' ');
  const why = `${head} ${reasons}`;
  return {
    wavelength_nm: nm,
    series: [],
    factor: null,
    low: null,
    high: null,
    dof: null,
    relative_standard_uncertainty: null,
    relative_expanded_uncertainty: null,
    coverage_factor: null,
    between_series_relative_sd: null,
    next_series_relative_sd: null,
    next_series_dof: null,
    corrected_reading_relative_U: null,
    budget: [],
    not_in_budget: [],
    levels: [],
    by_power: { verdict: 'one-level', p: null, offset_mW: null, why: head },
    candidate_range_mW: null,
    verdict: 'inconclusive',
    next_step: `Take a series of at least ${LEAST_LAPS} laps at this wavelength.`,
    improvement: null,
    why,
  };
}
