/** The words of this room. All values of K are ln K; uncertainties are fractions. */

import type { SeriesEstimate } from '../series/combineSeries.js';
import type { LogFactor } from '../series/seriesMean.js';
import type { Interval } from '../vocabulary.js';

/** One series, its drift and order already taken out; its uncertainty is from its own scatter. */
export interface SeriesAtPower extends SeriesEstimate {
  /** Mean indication of the candidate, mW. */
  readonly candidateMean_mW: number;
  /** Lowest and highest indication of the candidate, mW. */
  readonly candidateRange_mW: Interval;
}

/** Spread of the placement from series to series, as a fraction; stated exactly: 1e6. */
export interface Placement {
  readonly sd: number;
  readonly dof: number;
}

/** What correction needs of a level. */
export interface PowerLevel extends LogFactor {
  /** Lowest and highest indication of the candidate in its series, mW. */
  readonly candidate_mW: Interval;
  /** Geometric mean of its series' mean indications, mW: its place between its neighbours. */
  readonly centre_mW: number;
  /** Correlation of its ln K with that of the next level; left out: 1, as if both were off together. */
  readonly correlationWithNext?: number;
}

export interface MeasuredLevel extends PowerLevel {
  /** By the series of this level alone: for the hazard, and to see what was drawn where. */
  readonly own: LogFactor;
  readonly series: readonly string[];
}

/** K against the power: what `factorAtPower` reads. Lowest power first, at least one level. */
export interface PowerCurve<Level extends PowerLevel = PowerLevel> {
  readonly levels: readonly Level[];
  /** Offset of the candidate that the levels show, mW: it reads too much where positive. `null`: none shown. */
  readonly offset_mW: number | null;
}

/** Do the levels differ by more than their seating? `null`: one level cannot tell. */
export interface ByPower {
  readonly verdict: 'differ' | 'not-shown' | null;
  readonly p: number | null;
}

/** ln K that an offset makes: K = K₀·(1 − offset/indication). */
export const offsetAt = (offset_mW: number | null, candidate_mW: number): number =>
  offset_mW === null ? 0 : Math.log1p(-offset_mW / candidate_mW);
