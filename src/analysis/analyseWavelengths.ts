/** Series → one factor per wavelength with its full uncertainty budget. */

import {
  type Collected,
  type CombinedUncertainty,
  checkByMonteCarlo,
  combineContributions,
  hull,
  nextImprovement,
  REFERENCE_CALIBRATION,
  type ShapedInput,
} from '../budget/index.js';
import {
  type BetweenSeries,
  CONTRADICTION,
  type CombinedSeries,
  combineSeries,
  isDoubledLine,
  pooledBetweenSeries,
  type WavelengthEstimate,
  WIDEST_FACTOR,
} from '../correct/index.js';
import { wavelengthVerdict } from '../decide/index.js';
import { combineIndependent } from '../statistics/combineIndependent.js';
import { percent } from '../statistics/digits.js';
import { coverageFactor } from '../statistics/distributions.js';
import {
  LEAST_LAPS,
  type Study,
  type Warning,
  type WavelengthResult,
  type WavelengthVerdict,
} from '../vocabulary.js';
import type { SeriesAnalysis } from './analyseSeries.js';
import { contributions, type WavelengthInput } from './wavelengthBudget.js';
import { contradiction, type Member, member, singleLaps } from './wavelengthMembers.js';
import { neighbours, type Objection, shortSeries, wrongSettings } from './withheld.js';

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
  const groups = wavelengths.map((nm) => ({
    nm,
    all: input.series.filter(({ result }) => result.wavelength_nm === nm),
    members: input.series
      .filter((analysis) => analysis.result.wavelength_nm === nm && isIsolated(analysis))
      .flatMap(member),
  }));
  // What may hold infrared differs for reasons of its own: it says nothing of other wavelengths.
  const lends = ({ analysis: { result } }: Member) =>
    !isDoubledLine(result.wavelength_nm) || isBehindFilter(study, result.id);
  const pooled = pooledBetweenSeries(
    groups.map((group) => group.members.filter(lends).map(({ estimate }) => estimate)),
    study.between_series,
  );
  const warnings: Warning[] = [];
  const results: WavelengthResult[] = [];
  const estimates: WavelengthEstimate[] = [];
  const objections: Objection[] = [];
  for (const { nm, all, members } of groups) {
    const single = members.length === 0 ? singleLaps(all.filter(isIsolated)) : null;
    if (members.length === 0 && single === null) {
      results.push(nothing(nm, all));
      continue;
    }
    const combined =
      single?.combined ??
      combineSeries(
        members.map(({ estimate }) => estimate),
        pooled,
      );
    if (contradictory(combined)) {
      warnings.push(contradiction(nm, members));
    }
    const speaking = single?.members ?? members;
    const collected = contributions(nm, speaking, combined, input);
    const total = combineInputs(collected.inputs, study.confidence);
    if (!(total.relative_expanded_uncertainty <= Math.log(WIDEST_FACTOR))) {
      results.push(
        nothing(
          nm,
          all,
          `The interval of K would reach beyond a factor of ${WIDEST_FACTOR} either way.`,
        ),
      );
      continue;
    }
    results.push(wavelengthResult({ nm, members: speaking, combined, collected, total, input }));
    const estimate = withoutShared(nm, combined, collected.inputs, study.confidence);
    estimates.push(estimate);
    const short = all.filter(
      (one) =>
        isIsolated(one) &&
        one.laps.length > 0 &&
        !speaking.some(({ analysis }) => analysis === one),
    );
    objections.push(
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

/** No verdict where something has to be found out first; the numbers stand. */
function withheld(result: WavelengthResult, objections: readonly Objection[]): WavelengthResult {
  const reasons = objections
    .filter((one) => one.wavelength_nm === result.wavelength_nm)
    .flatMap(({ reason }) => reason ?? []);
  return reasons.length === 0
    ? result
    : { ...result, verdict: 'inconclusive', why: [...reasons, result.why].join(' ') };
}

const isBehindFilter = (study: Study, id: string): boolean =>
  study.series.some((one) => one.id === id && one.filter !== null);

/** Root sum of squares of the contributions; their shapes are for the Monte Carlo check alone. */
function combineInputs(inputs: readonly ShapedInput[], confidence: number): CombinedUncertainty {
  return combineContributions(
    inputs.map(({ shape: _, ...rest }) => rest),
    { confidence },
  );
}

const contradictory = ({ heterogeneity }: CombinedSeries): boolean =>
  heterogeneity !== null && heterogeneity.p < CONTRADICTION;

interface WavelengthParts {
  readonly nm: number;
  readonly members: readonly Member[];
  readonly combined: CombinedSeries;
  readonly collected: Collected;
  readonly total: CombinedUncertainty;
  readonly input: WavelengthInput;
}

function wavelengthResult(parts: WavelengthParts): WavelengthResult {
  const { nm, members, combined, collected, total, input } = parts;
  const { study } = input;
  const { confidence, tolerance } = study;
  const factor = Math.exp(combined.logFactor);
  const U = total.relative_expanded_uncertainty;
  const [low, high] = [factor * Math.exp(-U), factor * Math.exp(U)];
  const judged = wavelengthVerdict({
    factor,
    low,
    high,
    tolerance,
    spread: contradictory(combined) ? combined.betweenSd : null,
  });
  const onAnotherDay = correctedReadingU(total, combined.next, confidence);
  const laps = members.reduce((sum, { analysis }) => sum + analysis.laps.length, 0);
  const relative =
    study.reference.expanded_uncertainty_percent === null ? 'Relative to this reference only.' : '';
  return {
    wavelength_nm: nm,
    series: members.map(({ analysis }) => analysis.result.id),
    factor,
    low,
    high,
    dof: total.dof,
    relative_standard_uncertainty: total.relative_standard_uncertainty,
    relative_expanded_uncertainty: U,
    coverage_factor: total.coverage_factor,
    between_series_relative_sd: combined.betweenSd,
    next_series_relative_sd: combined.next.sd,
    next_series_dof: combined.next.dof,
    corrected_reading_relative_U: onAnotherDay,
    budget: total.budget,
    not_in_budget: collected.missing,
    monte_carlo: checkByMonteCarlo({
      contributions: collected.inputs,
      value: factor,
      confidence,
      seed: input.seed,
      interval: [low, high],
    }),
    candidate_range_mW: hull(members.map(({ analysis }) => analysis.result.candidate_range_mW)),
    verdict: judged.verdict,
    next_step: nextImprovement({
      budget: total.budget,
      confidence,
      wanted: tolerance,
      laps,
      missing: collected.missing,
    }).sentence,
    why: [judged.why, useWords(judged.verdict, onAnotherDay, tolerance), relative]
      .filter((part) => part !== '')
      .join(' '),
  };
}

/** U of K and of one more placement together (Welch–Satterthwaite), as a fraction. */
function correctedReadingU(
  total: CombinedUncertainty,
  next: BetweenSeries,
  confidence: number,
): number {
  const { standardUncertainty: u, dof } = combineIndependent([
    { standardUncertainty: total.relative_standard_uncertainty, dof: total.dof },
    { standardUncertainty: next.sd, dof: next.dof },
  ]);
  return coverageFactor(confidence, dof) * u;
}

function useWords(verdict: WavelengthVerdict, U: number, tolerance: number): string {
  if (verdict === 'inconclusive' || verdict === 'within-tolerance') return '';
  const known = `A reading corrected on another day, with the head put up again, is known to ± ${percent(U)}, its own scatter and display step aside`;
  return U > tolerance
    ? `${known}: more than the tolerance, so put the head up several times and take the mean.`
    : `${known}.`;
}

/** The estimate that may be compared with another wavelength's: no shared calibration in it. */
function withoutShared(
  nm: number,
  combined: CombinedSeries,
  inputs: readonly ShapedInput[],
  confidence: number,
): WavelengthEstimate {
  const own = combineInputs(
    inputs.filter((one) => one.name !== REFERENCE_CALIBRATION),
    confidence,
  );
  return {
    wavelength_nm: nm,
    logFactor: combined.logFactor,
    standardUncertainty: own.relative_standard_uncertainty,
    dof: own.dof,
  };
}

function nothing(
  nm: number,
  all: readonly SeriesAnalysis[],
  head = 'No series at this wavelength gives a factor.',
): WavelengthResult {
  const reasons = [...new Set(all.map(({ result }) => result.why))].join(' ');
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
    monte_carlo: null,
    candidate_range_mW: null,
    verdict: 'inconclusive',
    next_step: `Take a series of at least ${LEAST_LAPS} laps at this wavelength.`,
    why: `${head} ${reasons}`,
  };
}
