/** Series at one wavelength → one factor, with what differs from series to series. */
import { argumentWrong } from '../error.js';
import { combineIndependent } from '../statistics/combineIndependent.js';
import { percent } from '../statistics/digits.js';
import { coverageFactor } from '../statistics/distributions.js';
import { type RandomEffectsMean, randomEffects } from '../statistics/randomEffects.js';
import { KNOWN_EXACTLY, type Protocol } from '../vocabulary.js';

export interface SeriesEstimate {
  readonly id: string;
  /** ln K. */
  readonly logFactor: number;
  /** Relative standard uncertainty and dof of the series alone. */
  readonly standardUncertainty: number;
  readonly dof: number;
}

/**
 * Standard deviation between series where they do not show it, by how the heads were put back (common
 * practice, no source): 1 % where nobody says.
 */
export const DEFAULT_BETWEEN_SERIES = 0.01;
const DEFAULT_BY_PLACEMENT = { jig: 0.005, 'by-hand': 0.02 } as const;
/** Degrees of freedom of that default: trusted to a quarter (JCGM 100:2008, G.4.2). */
export const DEFAULT_BETWEEN_DOF = 8;

export interface BetweenSeries {
  /** Relative standard deviation between series. */
  readonly sd: number;
  readonly dof: number;
  /** Where it comes from, in words. */
  readonly note: string;
}

/**
 * The spread between series that all wavelengths share: stated in the study, or pooled from the
 * wavelengths with more than one series together with the default, which counts as 8 degrees of
 * freedom of its own.
 *
 * @param groups the series of each wavelength
 * @param stated relative standard deviation from the study; `null` when not stated
 * @param placement how the heads were put back, which decides the default; `null` when not stated
 * @throws argument-wrong
 */
export function pooledBetweenSeries(
  groups: readonly (readonly SeriesEstimate[])[],
  stated: number | null,
  placement: Protocol['placement'] = null,
): BetweenSeries {
  for (const group of groups) requireEstimates(group);
  if (stated !== null) {
    requireSpread(stated, KNOWN_EXACTLY);
    return { sd: stated, dof: KNOWN_EXACTLY, note: 'stated in the study' };
  }
  const usual = placement === null ? DEFAULT_BETWEEN_SERIES : DEFAULT_BY_PLACEMENT[placement];
  const how = placement === null ? 'default' : `default (${placement})`;
  let squares = 0;
  let dof = 0;
  for (const group of groups) {
    if (group.length < 2) continue;
    const { betweenVariance } = randomEffects(group.map(toEstimate));
    squares += (group.length - 1) * betweenVariance;
    dof += group.length - 1;
  }
  const sd = Math.sqrt((squares + DEFAULT_BETWEEN_DOF * usual ** 2) / (dof + DEFAULT_BETWEEN_DOF));
  return {
    sd,
    dof: dof + DEFAULT_BETWEEN_DOF,
    note:
      dof === 0
        ? `${how} of ${percent(usual)}: no power was measured in more than one series`
        : `pooled from repeated series (${dof} dof) and the ${how} of ${percent(usual)} (${DEFAULT_BETWEEN_DOF} dof)`,
  };
}

export interface CombinedSeries {
  readonly logFactor: number;
  /**
   * Standard uncertainty from the series' own scatter, and its dof; `null` where the spread between
   * the series holds it already.
   */
  readonly repeatability: { readonly standardUncertainty: number; readonly dof: number } | null;
  /** Standard uncertainty of the mean from the spread between series, and its dof. */
  readonly between: { readonly standardUncertainty: number; readonly dof: number; note: string };
  /** Spread between series itself. */
  readonly betweenSd: number;
  /** Spread to reckon with in a further series, or in a single reading on another day. */
  readonly next: BetweenSeries;
  /** Do these series contradict each other? `null` for a single series. */
  readonly heterogeneity: Pick<RandomEffectsMean, 'q' | 'p' | 'iSquared'> | null;
}

/** Below this p value the series of a wavelength are said to contradict each other. */
export const CONTRADICTION = 0.05;

/**
 * Random-effects mean of the series of one wavelength (Paule and Mandel's between-series variance).
 *
 * From three series on the standard error is Hartung and Knapp's with m − 1 degrees of freedom. One or
 * two series cannot show their spread: they take the pooled one (`pooledBetweenSeries`), never less
 * than what they show themselves; two that contradict each other take whichever of the two is wider,
 * so that no contradiction makes the answer look better.
 *
 * @throws argument-wrong for an uncertainty below 0 or not finite, too-few-values for no series
 */
export function combineSeries(
  series: readonly SeriesEstimate[],
  pooled: BetweenSeries,
): CombinedSeries {
  requireEstimates(series);
  requireSpread(pooled.sd, pooled.dof);
  const m = series.length;
  const [only] = series;
  if (m === 1) {
    return {
      logFactor: only.logFactor,
      repeatability: { standardUncertainty: only.standardUncertainty, dof: only.dof },
      between: { standardUncertainty: pooled.sd, dof: pooled.dof, note: pooled.note },
      betweenSd: pooled.sd,
      next: pooled,
      heterogeneity: null,
    };
  }
  const own = randomEffects(series.map(toEstimate));
  const ownSd = Math.sqrt(own.betweenVariance);
  const next = nextSeries(series, ownSd, pooled);
  const scatter: Spread = {
    logFactor: own.mean,
    repeatability: null,
    between: {
      standardUncertainty: own.hartungKnapp,
      dof: m - 1,
      note: `scatter of ${m} series about their mean (Hartung and Knapp), repeatability of ${percent(withinSeries(series, own.betweenVariance).standardUncertainty)} included`,
    },
    betweenSd: ownSd,
  };
  const agreeing = byStatedSpread(series, Math.max(pooled.sd, ownSd), pooled);
  const chosen =
    m >= 3 || (own.p < CONTRADICTION && halfWidth(scatter) > halfWidth(agreeing))
      ? scatter
      : agreeing;
  return { ...chosen, next, heterogeneity: own };
}

type Spread = Pick<CombinedSeries, 'logFactor' | 'repeatability' | 'between' | 'betweenSd'>;

/** Two series with a spread that others, or the study, tell. */
function byStatedSpread(
  series: readonly SeriesEstimate[],
  sd: number,
  pooled: BetweenSeries,
): Spread {
  const weights = weightsOf(series, sd * sd);
  const total = weights.reduce((sum, w) => sum + w, 0);
  const shares = weights.map((w) => w / total);
  return {
    logFactor: series.reduce((sum, s, i) => sum + shares[i] * s.logFactor, 0),
    repeatability: withinSeries(series, sd * sd),
    between: {
      standardUncertainty: sd * Math.hypot(...shares),
      dof: pooled.dof,
      note: pooled.note,
    },
    betweenSd: sd,
  };
}

/** Of the mean, at 95 %: what two series are known to must not grow when they disagree more. */
function halfWidth({ repeatability, between }: Spread): number {
  const { standardUncertainty, dof } = combineIndependent([
    ...(repeatability === null ? [] : [repeatability]),
    between,
  ]);
  return coverageFactor(0.95, dof) * standardUncertainty;
}

/**
 * What a further series may differ by: from three series on what they show, else what they show
 * together with the default, and never less than the pooled spread.
 */
function nextSeries(
  series: readonly SeriesEstimate[],
  ownSd: number,
  pooled: BetweenSeries,
): BetweenSeries {
  if (pooled.dof === KNOWN_EXACTLY) return pooled;
  const own =
    series.length >= 3
      ? { sd: ownSd, dof: series.length - 1, note: `scatter of ${series.length} series` }
      : pooledBetweenSeries([series], null);
  return own.sd > pooled.sd ? own : pooled;
}

/** What the series' own uncertainties leave in the weighted mean, with Welch–Satterthwaite dof. */
function withinSeries(series: readonly SeriesEstimate[], between: number) {
  const weights = weightsOf(series, between);
  const total = weights.reduce((sum, w) => sum + w, 0);
  return combineIndependent(
    series.map((s, i) => ({
      standardUncertainty: (weights[i] / total) * s.standardUncertainty,
      dof: s.dof,
    })),
  );
}

const weightsOf = (series: readonly SeriesEstimate[], between: number) =>
  series.map((s) => 1 / (toEstimate(s).standardUncertainty ** 2 + between));

/** A series that repeats exactly still needs an uncertainty above zero for its weight. */
function toEstimate(series: SeriesEstimate) {
  return {
    value: series.logFactor,
    standardUncertainty: Math.max(series.standardUncertainty, 1e-6),
  };
}

function requireEstimates(series: readonly SeriesEstimate[]): void {
  for (const { id, logFactor, standardUncertainty, dof } of series) {
    if (!Number.isFinite(logFactor)) {
      throw argumentWrong(`Series ${id}: ln K must be a finite number.`, logFactor);
    }
    requireSpread(standardUncertainty, dof);
  }
}

function requireSpread(u: number, dof: number): void {
  if (!(u >= 0 && Number.isFinite(u) && dof > 0 && Number.isFinite(dof))) {
    throw argumentWrong(
      'An uncertainty must be a finite number, not below 0, with degrees of freedom above 0.',
      `${u} with ${dof}`,
    );
  }
}
