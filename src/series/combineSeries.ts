/** Series at one wavelength → one factor, with what differs from series to series. */

import { percent } from '../findings/formatNumber.js';
import type { Part } from '../statistics/combineIndependent.js';
import { chiSquareQuantile } from '../statistics/distributions.js';
import { requireShape, type Shape } from '../statistics/shapes.js';
import { KNOWN_EXACTLY, type Protocol } from '../vocabulary.js';
import { contradiction, type LogFactor, ownMean, weightedMean } from './seriesMean.js';

export interface SeriesEstimate extends LogFactor {
  readonly id: string;
}

/**
 * Standard deviation between series where they do not show it, by how the heads were put back (common
 * practice, no source): 1 % where nobody says.
 */
export const DEFAULT_BETWEEN_SERIES = 0.01;
export const PLACEMENT_SD = { jig: 0.005, 'by-hand': 0.02 } as const;
/** Degrees of freedom of that default: trusted to a quarter (JCGM 100:2008, G.4.2). */
export const DEFAULT_BETWEEN_DOF = 8;

export interface BetweenSeries {
  /** Relative standard deviation between series. */
  readonly sd: number;
  readonly dof: number;
  /** Where it comes from, in words. */
  readonly note: string;
  /** What it would be without any series; left out: `sd` itself. */
  readonly usual?: number;
  /** Sum of squares and degrees of freedom of repeated series alone; left out: none. */
  readonly shown?: { readonly squares: number; readonly dof: number };
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
  requireShape(groups, 'The wavelengths', { list: SERIES });
  if (stated !== null) {
    requireShape(stated, 'A stated spread between series', 'not-negative');
    return { sd: stated, dof: KNOWN_EXACTLY, note: 'stated in the study' };
  }
  const usual = placement === null ? DEFAULT_BETWEEN_SERIES : PLACEMENT_SD[placement];
  const how = placement === null ? 'default' : `default (${placement})`;
  let squares = 0;
  let dof = 0;
  for (const group of groups) {
    if (group.length < 2) continue;
    const { betweenVariance } = ownMean(group);
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
    usual,
    shown: { squares, dof },
  };
}

export interface CombinedSeries {
  readonly logFactor: number;
  /**
   * Standard uncertainty from the series' own scatter, and its dof; `null` where the spread between
   * the series holds it already.
   */
  readonly repeatability: Part | null;
  /** Standard uncertainty of the mean from the spread between series, and its dof. */
  readonly between: Part & {
    readonly note: string;
    /** Whether this data says more of it (A) or other knowledge does (B); JCGM 100:2008, 2.3.2 and 2.3.3. */
    readonly type: 'A' | 'B';
  };
  readonly betweenSd: number;
  /** Spread to reckon with in a further series, or in a single reading on another day. */
  readonly next: BetweenSeries;
  /** Whether they differ by more than their scatter and the usual placement explain. */
  readonly contradicts: boolean;
}

/**
 * Random-effects mean of the series of one wavelength (Paule and Mandel's between-series variance).
 *
 * A stated spread is taken as known unless the series contradict it. From three series on the standard
 * error is else Hartung and Knapp's with m − 1 degrees of freedom. Two series show their spread with one
 * degree of freedom, which alone says next to nothing: they share it with the usual spread, which
 * counts as two (`spreadOfFew`). One series takes the pooled spread (`pooledBetweenSeries`).
 *
 * @throws argument-wrong for an uncertainty below 0 or not finite, too-few-values for no series
 */
export function combineSeries(
  series: readonly SeriesEstimate[],
  pooled: BetweenSeries,
): CombinedSeries {
  requireShape(series, 'The series', SERIES);
  requireShape(pooled, 'The spread between series', SPREAD);
  const m = series.length;
  if (m === 1) {
    return { ...withSpread(series, pooled), next: pooled, contradicts: false };
  }
  const own = ownMean(series);
  const usual = pooled.usual ?? pooled.sd;
  const contradicts = contradiction(series, usual) !== null;
  if (pooled.dof === KNOWN_EXACTLY && !contradicts) {
    return { ...withSpread(series, pooled), next: pooled, contradicts };
  }
  if (m === 2) {
    const spread = spreadOfFew(own.betweenVariance, 1, usual, pooled);
    return { ...withSpread(series, spread), next: spread, contradicts };
  }
  const ownSd = Math.sqrt(own.betweenVariance);
  const within = weightedMean(series, ownSd).within.standardUncertainty;
  return {
    logFactor: own.mean,
    repeatability: null,
    between: {
      standardUncertainty: own.hartungKnapp,
      dof: m - 1,
      note: `scatter of ${m} series about their mean (Hartung and Knapp), repeatability of ${percent(within)} included`,
      type: 'A',
    },
    betweenSd: ownSd,
    next: spreadOfFew(own.betweenVariance, m - 1, usual, pooled),
    contradicts,
  };
}

type Spread = Pick<CombinedSeries, 'logFactor' | 'repeatability' | 'between' | 'betweenSd'>;

/** Their weighted mean, with a spread that more than they themselves tell. */
function withSpread(series: readonly SeriesEstimate[], spread: BetweenSeries): Spread {
  const { sd, dof, note } = spread;
  const { logFactor, within, between } = weightedMean(series, sd);
  return {
    logFactor,
    repeatability: within,
    between: {
      standardUncertainty: between,
      dof,
      note,
      // The larger part names the whole.
      type: spread.shown !== undefined && 2 * spread.shown.dof > dof ? 'A' : 'B',
    },
    betweenSd: sd,
  };
}

/**
 * Degrees of freedom that the usual spread counts for beside two series, and in the next one beside
 * three and more (which agree by chance now and then). Chosen by coverage of corrected readings
 * (docs/methods/wavelengths.md): with 8, as where nothing is shown, a placement twice the usual one is
 * covered in 80 % after two series; with 2 in 92 %, at a quarter more width for the usual one.
 */
const USUAL_COUNTS = { besideTwo: 2, besideSeveral: 0.5 } as const;

/**
 * The spread that few series and the usual one show together. Other repeated series speak for these
 * as long as these do not stand out among them (χ² at 95 %, which is above their degrees of freedom:
 * those that stand out reach further).
 */
function spreadOfFew(
  variance: number,
  dof: number,
  usual: number,
  pooled: BetweenSeries,
): BetweenSeries {
  const counts = dof === 1 ? USUAL_COUNTS.besideTwo : USUAL_COUNTS.besideSeveral;
  const number = dof === 1 ? 'two' : `${dof + 1}`;
  const joined = (squares: number, n: number): BetweenSeries => ({
    sd: Math.sqrt((squares + counts * usual ** 2) / (n + counts)),
    dof: n + counts,
    shown: { squares, dof: n },
    note: `${number} series${n > dof ? ', other repeated ones' : ''} and the usual ${percent(usual)} together (${n} and ${counts} dof)`,
  });
  const own = joined(dof * variance, dof);
  const shown = pooled.shown ?? { squares: 0, dof: 0 };
  if (shown.dof <= dof) return own;
  const all = joined(shown.squares, shown.dof);
  const standsOut = dof * variance > chiSquareQuantile(0.95, dof) * all.sd ** 2;
  return standsOut ? own : all;
}

const SPREAD: Shape = { fields: { sd: 'not-negative', dof: 'above-zero' } };
const SERIES: Shape = {
  list: {
    fields: { logFactor: 'number', standardUncertainty: 'not-negative', dof: 'above-zero' },
  },
};
