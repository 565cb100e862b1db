/** The words of this room. All values of K are ln K; uncertainties are fractions. */
import type { Interval } from '../vocabulary.js';

/** One series, its drift and order already taken out. */
export interface SeriesAtPower {
  readonly id: string;
  /** Mean indication of the candidate, mW. */
  readonly candidateMean_mW: number;
  /** Lowest and highest indication of the candidate, mW. */
  readonly candidateRange_mW: Interval;
  /** ln K. */
  readonly logFactor: number;
  /** Standard uncertainty from the series' own scatter, and its degrees of freedom. */
  readonly standardUncertainty: number;
  readonly dof: number;
}

/** Spread of the placement from series to series, as a fraction; stated exactly: 1e6. */
export interface Placement {
  readonly sd: number;
  readonly dof: number;
}

/** ln K with what makes it uncertain at this level alone. */
export interface LevelFactor {
  readonly logFactor: number;
  readonly standardUncertainty: number;
  readonly dof: number;
}

/** What correction needs of a level. */
export interface PowerLevel extends LevelFactor {
  /** Lowest and highest indication of the candidate in its series, mW. */
  readonly candidate_mW: Interval;
  /** Geometric mean of its series' mean indications, mW: its place between its neighbours. */
  readonly centre_mW: number;
  /** Correlation of its ln K with that of the next level; left out: 1, as if both were off together. */
  readonly correlationWithNext?: number;
}

export interface MeasuredLevel extends PowerLevel {
  /** By the series of this level alone: for the hazard, and to see what was drawn where. */
  readonly own: LevelFactor;
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
