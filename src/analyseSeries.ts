/** One series: what is left out, how far apart the meters are, and the factor it gives. */
import { limitsOfAgreement, summariseDifferences } from './agree/index.js';
import { bracketedFactor, type FactorParts, seriesFactor, WIDEST_FACTOR } from './correct/index.js';
import { seriesVerdict } from './decide/index.js';
import { nullIfTooFew } from './error.js';
import {
  type DriftModel,
  driftModel,
  driftPerRun,
  keptLaps,
  lapPairs,
  orderBias,
} from './pair/index.js';
import {
  balancedExclusions,
  type ColdStarts,
  coldStarts,
  declaredExclusions,
  outlierFlags,
  runsWithout,
} from './screen/index.js';
import { coverageFactor } from './statistics/distributions.js';
import type {
  DriftResult,
  Exclusion,
  ExclusionEffect,
  Flag,
  Interval,
  LapPair,
  MeterRole,
  Run,
  Series,
  SeriesFactor,
  SeriesResult,
  Study,
} from './vocabulary.js';

/** Display steps of both meters in mW; `null` where not known. */
export interface Steps {
  readonly reference: number | null;
  readonly candidate: number | null;
}

export interface SeriesAnalysis {
  readonly result: SeriesResult;
  /** What later stages need beyond the result; `null` where no factor could be computed. */
  readonly parts: FactorParts | null;
  readonly model: DriftModel | null;
  readonly laps: readonly LapPair[];
}

const NO_FACTOR: SeriesFactor = {
  value: null,
  relative_standard_uncertainty: null,
  dof: null,
  low: null,
  high: null,
};

/**
 * Analyses one comparison series: screening, differences, limits of agreement, drift, factor,
 * verdict. Numbers that cannot be computed are `null`, and `why` says what they need.
 */
export function analyseSeries(series: Series, study: Study, steps: Steps): SeriesAnalysis {
  const { confidence, tolerance, limits_multiplier: multiplier } = study;
  const { factor, parts, screened } = estimateFactor(series, study, steps);
  const { excluded, kept, model, flagged } = screened;
  const laps = keptLaps(series, excluded);
  const mW = laps.map((lap) => lap.candidate.reading_mW - lap.reference.reading_mW);
  const percent = laps.map(
    (lap) => 100 * (lap.candidate.reading_mW / lap.reference.reading_mW - 1),
  );
  const repeatability = {
    reference: model === null ? null : Math.sqrt(model.fit.variances[0]),
    candidate: model === null ? null : Math.sqrt(model.fit.variances[1]),
  };
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
      used: { reference: count(kept, 'reference'), candidate: count(kept, 'candidate') },
      excluded,
      exclusion_effects: exclusionEffects(series, excluded, model),
      flagged,
      difference_mW: summariseDifferences(mW, { confidence }),
      difference_percent: summariseDifferences(percent, { confidence }),
      limits_mW: limitsOfAgreement(mW, { confidence, multiplier }),
      limits_percent: limitsOfAgreement(percent, { confidence, multiplier }),
      drift: driftResult(model, laps, confidence),
      factor,
      factor_bracketed: (model === null ? null : bracketedFactor(model, confidence)) ?? NO_FACTOR,
      repeatability,
      candidate_range_mW: range(kept, 'candidate'),
      reference_range_mW: range(kept, 'reference'),
      verdict: judged.verdict,
      further_laps: judged.further_laps,
      why: [judged.why, beyond(model, factor), ...doubts(screened)]
        .filter((part) => part !== '')
        .join(' '),
    },
    parts,
    model,
    laps,
  };
}

/** What `estimateFactor` needs to know of a study. */
export type FactorSettings = Pick<Study, 'protocol' | 'confidence'>;

/** The factor of one series with its interval, after screening. */
export function estimateFactor(
  series: Series,
  study: FactorSettings,
  steps: Steps,
): {
  readonly factor: SeriesFactor;
  readonly parts: FactorParts | null;
  readonly screened: Screened;
} {
  const screened = screen(series, study, steps);
  const { model } = screened;
  const parts = model === null ? null : seriesFactor(model, steps, study.confidence);
  const factor = withDoubts(parts?.factor ?? NO_FACTOR, otherEffects(series, screened));
  return { factor, parts, screened };
}

export interface Screened {
  readonly excluded: readonly Exclusion[];
  readonly suspected: readonly Exclusion[];
  readonly rivalEffects: readonly number[];
  readonly kept: readonly Run[];
  readonly model: DriftModel | null;
  readonly flagged: readonly Flag[];
}

/** Declared exclusions, then cold starts, then flags (and outliers where the protocol says so). */
function screen(series: Series, study: FactorSettings, steps: Steps): Screened {
  const rounding = (run: Run) => (steps[run.meter] ?? 0) / Math.sqrt(12) / run.reading_mW;
  const declared = declaredExclusions(series, study.protocol);
  const cold: ColdStarts = study.protocol.exclude_cold_starts
    ? coldStarts(series, runsWithout(series, declared), rounding)
    : { excluded: [], suspected: [], degree: 0, rivalEffects: [] };
  const { suspected, rivalEffects } = cold;
  const screened = [...declared, ...cold.excluded];
  const kept = runsWithout(series, screened);
  const model = modelOf(kept, cold.degree);
  const flagged = model === null ? [] : outlierFlags(kept, model.fit, kept.map(rounding));
  if (!study.protocol.exclude_outliers || flagged.length === 0) {
    return { excluded: inOrder(screened), suspected, rivalEffects, kept, model, flagged };
  }
  const reasons = new Map(flagged.map((flag) => [flag.run, flag.message]));
  const out = new Set(screened.map((exclusion) => exclusion.run));
  const outliers = balancedExclusions(series, 'outlier', reasons).filter(
    (exclusion) => !out.has(exclusion.run),
  );
  const excluded = inOrder([...screened, ...outliers]);
  const left = runsWithout(series, excluded);
  return {
    excluded,
    suspected,
    rivalEffects,
    kept: left,
    model: modelOf(left, cold.degree),
    flagged,
  };
}

function inOrder(exclusions: readonly Exclusion[]): Exclusion[] {
  return [...exclusions].sort((a, b) => a.run - b.run);
}

/** The drift model, or `null` where the runs cannot tell meter and drift apart. */
function modelOf(runs: readonly Run[], leastDegree = 0): DriftModel | null {
  const usable = runs.every((run) => run.reading_mW > 0);
  if (!usable || count(runs, 'reference') === 0 || count(runs, 'candidate') === 0) return null;
  return nullIfTooFew(() => driftModel(runs, { leastDegree }));
}

/**
 * Meter effects of the other explanations that the runs leave open: without a first lap that looks
 * cold, but not beyond doubt; with a curved drift in place of a cold start.
 */
function otherEffects(series: Series, screened: Screened): readonly number[] {
  const { excluded, suspected, rivalEffects, model } = screened;
  if (suspected.length === 0) return rivalEffects;
  // What the whole series shows of its drift still holds when a lap is taken away.
  const without = modelOf(
    runsWithout(series, [...excluded, ...suspected]),
    model?.evidentDegree ?? 0,
  );
  return without === null ? rivalEffects : [...rivalEffects, without.effect];
}

/** The interval stretched until it holds the factor under the other explanations as well. */
function withDoubts(factor: SeriesFactor, effects: readonly number[]): SeriesFactor {
  const { value, low, high, relative_standard_uncertainty: u } = factor;
  if (effects.length === 0 || value === null || low === null || high === null) return factor;
  // Shifted by what the other explanation moves the factor, not joined with its own interval: a
  // shorter series has a wide one because it has a lap less, which says nothing about the lap.
  const shifts = effects.map((effect) => Math.exp(-effect) / value);
  const stretched = {
    low: low * Math.min(1, ...shifts),
    high: high * Math.max(1, ...shifts),
  };
  // The standard uncertainty that a t interval of the same width would have.
  const widened = Math.log(stretched.high / stretched.low) / Math.log(high / low);
  return {
    ...factor,
    ...stretched,
    relative_standard_uncertainty: u === null || !Number.isFinite(widened) ? u : u * widened,
  };
}

/** Runs that make a model and yet no interval. */
function beyond(model: DriftModel | null, factor: SeriesFactor): string {
  if (model === null || factor.value !== null) return '';
  return `It would reach beyond a factor of ${WIDEST_FACTOR} either way: the display steps or the scatter are too large for these readings.`;
}

/** What the interval had to be stretched for. */
function doubts({ suspected, rivalEffects, excluded }: Screened): string[] {
  const [first] = suspected;
  const cold = excluded.find((exclusion) => exclusion.kind === 'cold-start');
  return [
    ...(first === undefined
      ? []
      : [
          `Run ${first.run} may be a cold start (${first.reason}); it is kept, and the interval covers the factor with and without it.`,
        ]),
    ...(rivalEffects.length === 0 || cold === undefined
      ? []
      : [
          `Run ${cold.run} is left out as a cold start, but a source that settles in a curve could look the same; the interval covers the factor of both.`,
        ]),
  ];
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
  const step = model === null ? null : driftPerRun(model);
  if (model === null || step === null) {
    return {
      degree: null,
      evident_degree: null,
      percent_per_run: null,
      percent_per_run_interval: [null, null],
      wander_percent_per_run: null,
      order_bias_percent: null,
    };
  }
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

function count(runs: readonly Run[], meter: MeterRole): number {
  return runs.filter((run) => run.meter === meter).length;
}

function range(runs: readonly Run[], meter: MeterRole): Interval | null {
  const readings = runs.filter((run) => run.meter === meter).map((run) => run.reading_mW);
  return readings.length === 0 ? null : [Math.min(...readings), Math.max(...readings)];
}
