/** Series → one factor per wavelength with its full uncertainty budget. */

import { unisolatedSeries } from './analyseInfrared.js';
import type { SeriesAnalysis, Steps } from './analyseSeries.js';
import type { SettlingAnalysis } from './analyseSettling.js';
import {
  type Collected,
  calibration,
  checkByMonteCarlo,
  collect,
  combineContributions,
  hull,
  nextImprovement,
  REFERENCE_CALIBRATION,
  resolution,
  type ShapedInput,
  setting,
  settling,
  zero,
} from './budget/index.js';
import {
  type CombinedSeries,
  combineSeries,
  pooledBetweenSeries,
  type SeriesEstimate,
  type WavelengthEstimate,
} from './correct/index.js';
import { wavelengthVerdict } from './decide/index.js';
import { percent } from './statistics/digits.js';
import { mean, standardDeviation } from './statistics/summary.js';
import type { MeterRole, SettingResult, Study, Warning, WavelengthResult } from './vocabulary.js';

export interface WavelengthAnalysis {
  readonly results: readonly WavelengthResult[];
  /** For the common factor: without what all wavelengths share. */
  readonly estimates: readonly WavelengthEstimate[];
  readonly warnings: readonly Warning[];
}

export interface WavelengthInput {
  readonly study: Study;
  readonly series: readonly SeriesAnalysis[];
  readonly settings: readonly SettingResult[];
  readonly settling: SettlingAnalysis;
  readonly steps: Steps;
  readonly seed: number;
}

interface Member {
  readonly analysis: SeriesAnalysis;
  readonly estimate: SeriesEstimate;
}

/** One result per wavelength, in ascending order. */
export function analyseWavelengths(input: WavelengthInput): WavelengthAnalysis {
  const { study } = input;
  const leaking = unisolatedSeries(study);
  const isIsolated = ({ result }: SeriesAnalysis) => !leaking.has(result.id);
  const wavelengths = [...new Set(input.series.map(({ result }) => result.wavelength_nm))].sort(
    (a, b) => a - b,
  );
  const groups = wavelengths.map((nm) => ({
    nm,
    all: input.series.filter(({ result }) => result.wavelength_nm === nm),
    members: input.series
      .filter((analysis) => analysis.result.wavelength_nm === nm && isIsolated(analysis))
      .flatMap((analysis) => member(analysis, input.settling)),
  }));
  const pooled = pooledBetweenSeries(
    groups.map((group) => group.members.map(({ estimate }) => estimate)),
    study.between_series,
  );
  const warnings: Warning[] = [];
  const results: WavelengthResult[] = [];
  const estimates: WavelengthEstimate[] = [];
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
    if (combined.heterogeneity !== null && combined.heterogeneity.p < 0.05) {
      warnings.push(contradiction(nm, members));
    }
    const collected = contributions(nm, single?.members ?? members, combined, input);
    results.push(wavelengthResult(nm, single?.members ?? members, combined, collected, input));
    estimates.push(withoutShared(nm, combined, collected.inputs, study.confidence));
  }
  return { results, estimates, warnings };
}

function member(analysis: SeriesAnalysis, lag: SettlingAnalysis): Member[] {
  const { result, parts } = analysis;
  const { value, relative_standard_uncertainty: u } = result.factor;
  if (parts === null || value === null || u === null) return [];
  const multiplier = lag.bySource.get(result.source)?.multiplier ?? 1;
  // A suspected cold start widened the series' uncertainty: its scatter part carries that.
  const plain = parts.factor.relative_standard_uncertainty ?? 0;
  const widened = plain > 0 ? u / plain : 1;
  return [
    {
      analysis,
      estimate: {
        id: result.id,
        logFactor: Math.log(value * multiplier),
        standardUncertainty: parts.scatter.standardUncertainty * widened,
        dof: parts.scatter.dof,
      },
    },
  ];
}

/** Series that have to agree with each other when none of them has an interval of its own. */
const LEAST_SINGLE = 3;

/**
 * Series of a lap or two, too short for a factor of their own: from three on, the scatter of their
 * ln K about the mean says how well the mean is known (Student's t, m − 1 degrees of freedom). No
 * drift can be taken out of so few runs; the budget says so.
 */
function singleLaps(
  all: readonly SeriesAnalysis[],
): { readonly members: Member[]; readonly combined: CombinedSeries } | null {
  const members = all
    .filter(({ laps }) => laps.length > 0)
    .map((analysis): Member => {
      const logs = analysis.laps.map((lap) =>
        Math.log(lap.reference.reading_mW / lap.candidate.reading_mW),
      );
      const logFactor = mean(logs);
      return {
        analysis,
        estimate: { id: analysis.result.id, logFactor, standardUncertainty: 0, dof: 1 },
      };
    });
  if (members.length < LEAST_SINGLE) return null;
  const logs = members.map(({ estimate }) => estimate.logFactor);
  const sd = standardDeviation(logs);
  return {
    members,
    combined: {
      logFactor: mean(logs),
      repeatability: null,
      between: {
        standardUncertainty: sd / Math.sqrt(logs.length),
        dof: logs.length - 1,
        note: `scatter of ${logs.length} series of a lap or two about their mean`,
      },
      betweenSd: sd,
      heterogeneity: null,
    },
  };
}

function contributions(
  nm: number,
  members: readonly Member[],
  combined: CombinedSeries,
  input: WavelengthInput,
): Collected {
  const { study, steps } = input;
  const scatter: Collected = {
    inputs: [
      ...(combined.repeatability === null
        ? []
        : [
            {
              name: 'repeatability',
              relative_standard_uncertainty: combined.repeatability.standardUncertainty,
              dof: combined.repeatability.dof,
              type: 'A' as const,
              shape: 'student' as const,
              note: `scatter of the runs about the drift, ${members.length} series`,
            },
          ]),
      {
        name: 'between series (placement, source)',
        relative_standard_uncertainty: combined.between.standardUncertainty,
        dof: combined.between.dof,
        type: 'A',
        shape: 'student',
        note: combined.between.note,
      },
    ],
    missing: [],
  };
  const runs = members.flatMap(({ analysis }) =>
    analysis.model !== null
      ? analysis.model.runs
      : analysis.laps.flatMap((lap) => [lap.reference, lap.candidate]),
  );
  const noDrift: Collected = {
    inputs: [],
    missing: members.every(({ analysis }) => analysis.model !== null)
      ? []
      : ['drift: series of a lap or two cannot show it, and one step of it may be in the factor'],
  };
  const of = (meter: MeterRole) => runs.filter((run) => run.meter === meter);
  const frozen = (meter: MeterRole) =>
    Math.sqrt(
      members.reduce((sum, { analysis }) => sum + (analysis.parts?.rounding[meter] ?? 0) ** 2, 0),
    ) / members.length;
  const meters: readonly MeterRole[] = ['reference', 'candidate'];
  const sources = [...new Set(members.map(({ analysis }) => analysis.result.source))];
  const states = sources.flatMap((name) => {
    const one = input.settling.bySource.get(name);
    return one === undefined ? [] : [one.state];
  });
  return collect([
    scatter,
    noDrift,
    calibration(study.reference),
    ...meters.map((meter) => resolution(meter, frozen(meter), steps[meter])),
    ...meters.map((meter) =>
      zero(
        meter,
        of(meter).every((run) => run.zero_mW !== null),
        steps[meter],
        Math.min(...of(meter).map((run) => run.reading_mW)),
      ),
    ),
    ...meters.map((meter) =>
      setting(
        {
          meter: study[meter],
          wavelength_nm: nm,
          settings_nm: of(meter).map((run) => run.setting_nm),
        },
        input.settings,
      ),
    ),
    ...states.slice(0, 1).map(settling),
  ]);
}

function wavelengthResult(
  nm: number,
  members: readonly Member[],
  combined: CombinedSeries,
  collected: Collected,
  input: WavelengthInput,
): WavelengthResult {
  const { study } = input;
  const { confidence, tolerance } = study;
  const total = combineContributions(
    collected.inputs.map(({ shape: _, ...rest }) => rest),
    { confidence },
  );
  const factor = Math.exp(combined.logFactor);
  const U = total.relative_expanded_uncertainty;
  const [low, high] = [factor * Math.exp(-U), factor * Math.exp(U)];
  const judged = wavelengthVerdict({ factor, low, high, tolerance });
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
    why: [judged.why, relative].filter((part) => part !== '').join(' '),
  };
}

/** The estimate that may be compared with another wavelength's: no shared calibration in it. */
function withoutShared(
  nm: number,
  combined: CombinedSeries,
  inputs: readonly ShapedInput[],
  confidence: number,
): WavelengthEstimate {
  const own = combineContributions(
    inputs.filter((one) => one.name !== REFERENCE_CALIBRATION).map(({ shape: _, ...rest }) => rest),
    { confidence },
  );
  return {
    wavelength_nm: nm,
    logFactor: combined.logFactor,
    standardUncertainty: own.relative_standard_uncertainty,
    dof: own.dof,
  };
}

function nothing(nm: number, all: readonly SeriesAnalysis[]): WavelengthResult {
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
    budget: [],
    not_in_budget: [],
    monte_carlo: null,
    candidate_range_mW: null,
    verdict: 'inconclusive',
    next_step: 'Take a series of at least 5 laps at this wavelength.',
    why: `No series at this wavelength gives a factor. ${reasons}`,
  };
}

/** Says by how much the series differ, and whether the power may be the reason. */
function contradiction(nm: number, members: readonly Member[]): Warning {
  const byPower = [...members].sort(
    (a, b) =>
      (a.analysis.result.reference_range_mW?.[1] ?? 0) -
      (b.analysis.result.reference_range_mW?.[1] ?? 0),
  );
  const values = byPower.map(({ estimate }) => Math.exp(estimate.logFactor));
  const spread = Math.max(...values) / Math.min(...values) - 1;
  const powers = byPower.map(({ analysis }) => analysis.result.reference_range_mW?.[1] ?? 0);
  const apart = powers[powers.length - 1] > 1.5 * powers[0];
  const top = values[values.length - 1];
  const highest = apart && top === Math.max(...values);
  const reason = highest
    ? ` The factor is largest at the highest power, as when a heat sink warms and the candidate reads low there: use a factor measured at the power you need.`
    : apart
      ? ' They were taken at different powers, which may be the reason.'
      : ' They were taken at about the same power: placement, or the sources, differ.';
  return {
    code: 'series-contradict',
    message: `At ${nm} nm the series differ by ${percent(spread)}, more than their scatter explains; the uncertainty carries it.${reason}`,
  };
}
