/** One series: what is left out, how far apart the meters are, and the factor it gives. */

import { limitsOf } from '../agree/limitsOfAgreement.js';
import { differenceSummary } from '../agree/summarise.js';
import type { Steps } from '../readings/displayStep.js';
import { eachMeter, runsOn } from '../record/meters.js';
import { coverageFactor } from '../statistics/distributions.js';
import { sentences } from '../statistics/sentences.js';
import { extremes } from '../statistics/summary.js';
import { seriesVerdict } from '../verdict/tolerance.js';
import type {
  ComparedSeries,
  DriftResult,
  Exclusion,
  ExclusionEffect,
  Interval,
  LapPair,
  MeterRole,
  Run,
  Series,
  SeriesFactor,
  Study,
  Suspect,
} from '../vocabulary.js';
import { runsWithout } from './balanced.js';
import type { DriftModel } from './driftModel.js';
import { doubts, estimateFactor, NO_FACTOR } from './estimateFactor.js';
import { groupOf } from './groupOf.js';
import { keptLaps, lapPairs } from './lapPairs.js';
import { driftPerRun, orderBias } from './orderBias.js';
import { type FactorSettings, modelOf } from './screenSeries.js';
import { bracketedFactor, type FactorParts, WIDEST_FACTOR } from './seriesFactor.js';

export interface SeriesAnalysis extends ComparedSeries {
  /** What later stages need beyond the result; `null` where no factor could be computed. */
  readonly parts: FactorParts | null;
  readonly model: DriftModel | null;
}

/**
 * Analyses one comparison series: screening, differences, limits of agreement, drift, factor,
 * verdict. Numbers that cannot be computed are `null`, and `why` says what they need.
 *
 * @param suspects entries of this series that look like slips: a slip is never a cold start, and nothing
 *   is decided while one is open
 */
export function analyseSeries(
  series: Series,
  study: Study,
  steps: Steps,
  suspects: readonly Suspect[] = [],
): SeriesAnalysis {
  const { confidence, tolerance, limits_multiplier: multiplier } = study;
  const { factor, parts, screened } = estimateFactor(series, settingsFor(study, suspects), steps);
  const { excluded, kept, model, flagged } = screened;
  const laps = keptLaps(series, excluded);
  const mW = laps.map((lap) => lap.candidate.reading_mW - lap.reference.reading_mW);
  const percent = laps.map(
    (lap) => 100 * (lap.candidate.reading_mW / lap.reference.reading_mW - 1),
  );
  const repeatability = eachMeter((meter) =>
    model === null ? null : Math.sqrt(model.fit.variances[groupOf({ meter })]),
  );
  const judged = seriesVerdict({
    ...factor,
    laps: laps.length,
    tolerance,
    confidence,
    repeatability,
  });
  return {
    result: {
      id: series.id,
      source: series.source,
      wavelength_nm: series.wavelength_nm,
      laps: lapPairs(series).length,
      used: eachMeter((meter) => runsOn(kept, meter).length),
      excluded,
      exclusion_effects: exclusionEffects(series, excluded, model),
      flagged,
      difference_mW: differenceSummary(mW, { confidence }),
      difference_percent: differenceSummary(percent, { confidence }),
      limits_mW: limitsOf(mW, { confidence, multiplier }),
      limits_percent: limitsOf(percent, { confidence, multiplier }),
      drift: driftResult(model, laps, confidence),
      factor,
      factor_bracketed: (model === null ? null : bracketedFactor(model, confidence)) ?? NO_FACTOR,
      repeatability,
      candidate_range_mW: range(kept, 'candidate'),
      reference_range_mW: range(kept, 'reference'),
      verdict: suspects.length > 0 ? 'inconclusive' : judged.verdict,
      further_laps: suspects.length > 0 ? null : judged.further_laps,
      why: sentences([
        suspects.length > 0 ? suspectWords(suspects) : judged.why,
        beyond(model, factor),
        ...doubts(screened),
      ]),
    },
    parts,
    model,
    laps,
  };
}

/** With an open slip in the series nobody can tell a cold start from it. */
function settingsFor(study: Study, suspects: readonly Suspect[]): FactorSettings {
  return suspects.length === 0
    ? study
    : { ...study, protocol: { ...study.protocol, exclude_cold_starts: false } };
}

/** Which rows have to be looked at before the series says anything. */
export function suspectWords(suspects: readonly Suspect[]): string {
  const rows = suspects.map(({ row }) => row);
  return `${rows.length === 1 ? 'Row' : 'Rows'} ${rows.join(', ')} of runs.csv ${rows.length === 1 ? 'looks like a slip' : 'look like slips'} of the pen: compare with the display again before anything is decided.`;
}

/** Runs that make a model and yet no interval. */
function beyond(model: DriftModel | null, factor: SeriesFactor): string {
  if (model === null || factor.value !== null) return '';
  return `It would reach beyond a factor of ${WIDEST_FACTOR} either way: the display steps or the scatter are too large for these readings.`;
}

/** For each kind of exclusion: the factor without these runs (as reported) and with them. */
function exclusionEffects(
  series: Series,
  excluded: readonly Exclusion[],
  reported: DriftModel | null,
): ExclusionEffect[] {
  const kinds = [...new Set(excluded.map((exclusion) => exclusion.kind))];
  const factorOf = (model: DriftModel | null) => (model === null ? null : Math.exp(-model.effect));
  return kinds.map((kind) => ({
    kind,
    runs: excluded.filter((exclusion) => exclusion.kind === kind).map((one) => one.run),
    factor_with: factorOf(
      modelOf(
        runsWithout(
          series,
          excluded.filter((exclusion) => exclusion.kind !== kind),
        ),
      ),
    ),
    factor_without: factorOf(reported),
  }));
}

function driftResult(
  model: DriftModel | null,
  laps: readonly LapPair[],
  confidence: number,
): DriftResult {
  if (model === null) {
    return {
      degree: null,
      evident_degree: null,
      percent_per_run: null,
      percent_per_run_interval: [null, null],
      wander_percent_per_run: null,
      order_bias_percent: null,
    };
  }
  const step = driftPerRun(model);
  const half = coverageFactor(confidence, step.dof) * step.standardUncertainty;
  const bias = orderBias(model, laps);
  return {
    degree: model.degree,
    evident_degree: model.evidentDegree,
    percent_per_run: 100 * step.value,
    percent_per_run_interval: [100 * (step.value - half), 100 * (step.value + half)],
    wander_percent_per_run: 100 * model.wanderPerRun,
    order_bias_percent: bias === null ? null : 100 * bias,
  };
}

function range(runs: readonly Run[], meter: MeterRole): Interval | null {
  const readings = runsOn(runs, meter).map((run) => run.reading_mW);
  return readings.length === 0 ? null : extremes(readings);
}
