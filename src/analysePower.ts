/** Does the factor depend on the power, and how far off is a series that it has not seen? */
import { unisolatedSeries } from './analyseInfrared.js';
import type { SeriesAnalysis } from './analyseSeries.js';
import type { SettlingAnalysis } from './analyseSettling.js';
import {
  type CommonBend,
  commonBend,
  curvature,
  gainOrGainAndOffset,
  leaveOneSeriesOut,
  pooledBetweenSeries,
  type SeriesEstimate,
  type SeriesMeans,
} from './correct/index.js';
import { MeterpairError } from './error.js';
import { significant } from './statistics/digits.js';
import { mean } from './statistics/summary.js';
import type {
  LeftOutPrediction,
  PowerBend,
  PowerDependence,
  PowerOffset,
  PowerResult,
  Study,
  Warning,
} from './vocabulary.js';

/** The highest power has to be this many times the lowest before a bend is looked for. */
const LEAST_RANGE = 1.5;

/** One series: a single point, because its runs share its drift and its placement. */
interface Point extends SeriesMeans {
  readonly estimate: SeriesEstimate;
}

/**
 * By wavelength and over all of them. The candidate's mean is the reference's mean divided by the
 * series' factor, so that drift and order leave no trace.
 */
export function analysePower(
  study: Study,
  series: readonly SeriesAnalysis[],
  settling: SettlingAnalysis,
): { readonly result: PowerResult; readonly warnings: readonly Warning[] } {
  const leaking = unisolatedSeries(study);
  const points = series
    .filter(({ result }) => !leaking.has(result.id))
    .flatMap((one) => pointOf(one, settling));
  const groups = [...new Set(points.map((one) => one.wavelength_nm))]
    .sort((a, b) => a - b)
    .map((nm) => points.filter((one) => one.wavelength_nm === nm));
  const byWavelength = groups.map((group): PowerDependence => {
    const others = groups.filter((other) => other !== group);
    return {
      wavelength_nm: group[0].wavelength_nm,
      series: group.map(({ id }) => id),
      range_mW: rangeOf(group),
      bend: bend(group, study),
      bend_by_pooled_scatter: bendByPooledScatter([group], others, study),
      offset: offset(group, study),
      prediction: prediction(group),
    };
  });
  const repeated = groups.filter((group) => group.length > 1);
  const overall: PowerDependence = {
    wavelength_nm: null,
    series: points.map(({ id }) => id),
    range_mW: rangeOf(points),
    bend: bendOverall(repeated, study),
    bend_by_pooled_scatter: bendByPooledScatter(repeated, [], study),
    offset: {
      ...NO_OFFSET,
      why: 'Every wavelength has a factor of its own, which takes up an offset: only several powers at one wavelength show it.',
    },
    prediction: prediction(points),
  };
  return {
    result: { by_wavelength: byWavelength, overall },
    warnings: byWavelength.flatMap(warnings),
  };
}

function pointOf({ result, model }: SeriesAnalysis, settling: SettlingAnalysis): Point[] {
  const { value, relative_standard_uncertainty: u, dof } = result.factor;
  const readings = (model?.runs ?? []).filter((run) => run.meter === 'reference');
  if (value === null || u === null || dof === null || readings.length === 0) return [];
  const factor = value * (settling.bySource.get(result.source)?.multiplier ?? 1);
  const reference = mean(readings.map((run) => run.reading_mW));
  return [
    {
      id: result.id,
      wavelength_nm: result.wavelength_nm,
      reference_mean_mW: reference,
      candidate_mean_mW: reference / factor,
      estimate: { id: result.id, logFactor: Math.log(factor), standardUncertainty: u, dof },
    },
  ];
}

const readingsOf = (points: readonly Point[]) => ({
  reference_mW: points.map((one) => one.reference_mean_mW),
  candidate_mW: points.map((one) => one.candidate_mean_mW),
});

function rangeOf(points: readonly Point[]): PowerDependence['range_mW'] {
  if (points.length === 0) return null;
  const powers = points.map((one) => one.reference_mean_mW);
  return [Math.min(...powers), Math.max(...powers)];
}

/** Why these series cannot show a bend; empty when they can. */
function tooFew(points: readonly Point[], least: number): string {
  if (points.length < least) {
    return `This needs ${least} series at different powers; there ${points.length === 1 ? 'is 1' : `are ${points.length}`}.`;
  }
  const [low, high] = rangeOf(points) ?? [1, 1];
  return high >= LEAST_RANGE * low
    ? ''
    : `The powers lie too close together (${significant(low, 3)} to ${significant(high, 3)} mW): the highest should be ${LEAST_RANGE} times the lowest.`;
}

const NO_BEND: PowerBend = {
  verdict: 'not-computable',
  at_top_percent: null,
  low_percent: null,
  high_percent: null,
  p: null,
  dof: null,
  top_mW: null,
  why: '',
};

function bend(points: readonly Point[], study: Study): PowerBend {
  const why = tooFew(points, 3);
  if (why !== '') return { ...NO_BEND, why };
  const levels = new Set(points.map((one) => one.reference_mean_mW)).size;
  const withOffset = points.length >= 5 && levels >= 3;
  return orWhy(NO_BEND, () => {
    const found = curvature(readingsOf(points), {
      offset: withOffset,
      confidence: study.confidence,
    });
    return {
      verdict: found.verdict,
      at_top_percent: found.at_top_percent,
      low_percent: found.interval_percent?.[0] ?? null,
      high_percent: found.interval_percent?.[1] ?? null,
      p: found.p,
      dof: found.dof,
      top_mW: found.top_mW,
      why: `${found.why}${withOffset ? '' : ' An offset of the zero would look the same.'}${found.dof < 3 ? ` Judged by ${points.length} series alone, which see large bends only.` : ''}${consequence(found.verdict)}`,
    };
  });
}

/** Against the scatter between series that the other wavelengths show, or the default. */
function bendByPooledScatter(
  groups: readonly (readonly Point[])[],
  others: readonly (readonly Point[])[],
  study: Study,
): PowerBend {
  const points = groups.flat();
  const why = spreadWithin(groups, 2);
  if (why !== '') return { ...NO_BEND, why };
  const pooled = pooledBetweenSeries(
    others.map((group) => group.map(({ estimate }) => estimate)),
    study.between_series,
  );
  const scatter = {
    sd: points.map(({ estimate }) =>
      Math.max(1e-6, Math.hypot(estimate.standardUncertainty, pooled.sd)),
    ),
    dof: Math.min(pooled.dof, ...points.map(({ estimate }) => estimate.dof)),
  };
  return orWhy(NO_BEND, () =>
    fromCommon(
      commonBend(
        { ...readingsOf(points), groups: points.map((one) => one.wavelength_nm) },
        { scatter, confidence: study.confidence },
      ),
      study,
      `Judged by a scatter between series of ${significant(100 * pooled.sd, 2)} % (${others.length === 0 && study.between_series === null ? 'the default' : pooled.note}) and that of the runs.`,
    ),
  );
}

function bendOverall(groups: readonly (readonly Point[])[], study: Study): PowerBend {
  const points = groups.flat();
  const why =
    groups.length < 2
      ? 'This needs two wavelengths with several series each; a single one has its own entry.'
      : spreadWithin(groups, groups.length + 2);
  if (why !== '') return { ...NO_BEND, why };
  return orWhy(NO_BEND, () =>
    fromCommon(
      commonBend(
        { ...readingsOf(points), groups: points.map((one) => one.wavelength_nm) },
        { confidence: study.confidence },
      ),
      study,
      `Every wavelength has a gain of its own; judged by the scatter of ${points.length} series.`,
    ),
  );
}

/** Empty when at least one group spans enough power and there are `least` series. */
function spreadWithin(groups: readonly (readonly Point[])[], least: number): string {
  const reasons = groups.map((group) => tooFew(group, 2));
  if (groups.flat().length < least) return tooFew(groups.flat(), least);
  return reasons.includes('')
    ? ''
    : (reasons[0] ?? 'No wavelength has two series with a factor at different powers.');
}

function fromCommon(found: CommonBend, study: Study, basis: string): PowerBend {
  const shown =
    found.p === null ? Math.abs(found.at_top_percent) > 1e-9 : found.p < 1 - study.confidence;
  const verdict = !shown
    ? 'not-shown'
    : found.at_top_percent < 0
      ? 'reads-low-at-the-top'
      : 'reads-high-at-the-top';
  return {
    verdict,
    at_top_percent: found.at_top_percent,
    low_percent: found.interval_percent[0],
    high_percent: found.interval_percent[1],
    p: found.p,
    dof: found.dof,
    top_mW: found.top_mW,
    why: `${shown ? 'The readings do not follow one gain.' : 'No bend is shown; one within the interval is not excluded.'} ${basis}${consequence(verdict)}`,
  };
}

function consequence(verdict: PowerBend['verdict']): string {
  if (verdict === 'reads-low-at-the-top') {
    return ' The candidate reads low at the top, as when its heat sink warms: at that power and above, one factor for all powers makes a laser look weaker than it is.';
  }
  return verdict === 'reads-high-at-the-top'
    ? ' The candidate reads high at the top, or low at the bottom: use a factor at the power at which it was measured.'
    : '';
}

const NO_OFFSET: PowerOffset = {
  verdict: 'not-computable',
  offset_mW: null,
  low_mW: null,
  high_mW: null,
  factor: null,
  p: null,
  why: '',
};

function offset(points: readonly Point[], study: Study): PowerOffset {
  const why = tooFew(points, 4);
  if (why !== '') return { ...NO_OFFSET, why };
  return orWhy(NO_OFFSET, () => {
    const found = gainOrGainAndOffset(readingsOf(points), { confidence: study.confidence });
    const { offset_mW, factor } = found.gain_and_offset;
    return {
      verdict: found.verdict,
      offset_mW: offset_mW.value,
      low_mW: offset_mW.interval?.[0] ?? null,
      high_mW: offset_mW.interval?.[1] ?? null,
      factor: factor.value,
      p: found.p,
      why: found.why,
    };
  });
}

function prediction(points: readonly Point[]): LeftOutPrediction {
  const found = leaveOneSeriesOut(points);
  return {
    predicted: found.predicted,
    rms_error_percent: found.rms_error_percent,
    uncorrected_rms_error_percent: found.uncorrected_rms_error_percent,
    series: found.series.map(({ id, error_percent, why }) => ({ id, error_percent, why })),
    why: [
      found.why,
      found.predicted > 0 ? 'What the reference itself is off does not show here.' : '',
    ]
      .filter((part) => part !== '')
      .join(' '),
  };
}

/** What the method refuses for these data becomes a reason in words. */
function orWhy<T extends { readonly why: string }>(none: T, compute: () => T): T {
  try {
    return compute();
  } catch (error) {
    if (error instanceof MeterpairError) return { ...none, why: error.message };
    throw error;
  }
}

function warnings(one: PowerDependence): Warning[] {
  const bends = [one.bend, one.bend_by_pooled_scatter];
  const shown = bends.find((found) => found.verdict === 'reads-low-at-the-top');
  if (shown === undefined || shown.at_top_percent === null) return [];
  return [
    {
      code: 'reads-low-at-the-top',
      message: `At ${one.wavelength_nm} nm the candidate reads ${significant(Math.abs(shown.at_top_percent), 2)} % lower at ${significant(shown.top_mW ?? 0, 3)} mW than its readings at low power promise. At that power and above, the factor of the wavelength makes the laser look weaker than it is.`,
    },
  ];
}
