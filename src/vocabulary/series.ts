/** What one series gives: laps, exclusions, differences, drift, factor. */
import type { Interval, MeterRole, Run } from './study.js';

/**
 * Laps that a series should have at least: with fewer, intervals are wide and cold starts cannot be
 * told. Warnings, verdicts and plans ask this number.
 */
export const LEAST_LAPS = 5;

/** Reference and candidate run next to each other. */
export interface LapPair {
  readonly lap: number;
  readonly reference: Run;
  readonly candidate: Run;
}

export type ExclusionKind = 'declared' | 'cold-start' | 'outlier';

/** A run left out, and why. */
export interface Exclusion {
  readonly run: number;
  readonly meter: MeterRole;
  readonly kind: ExclusionKind;
  readonly reason: string;
}

/** How the factor answers to leaving one kind of run out. `null` when it cannot be computed. */
export interface ExclusionEffect {
  readonly kind: ExclusionKind;
  readonly runs: readonly number[];
  readonly factor_with: number | null;
  readonly factor_without: number | null;
}

/** A run that looks odd by statistics alone: flagged, and kept unless the protocol says otherwise. */
export interface Flag {
  readonly run: number;
  readonly meter: MeterRole;
  /** Test that flagged it. */
  readonly test: 'generalised-esd' | 'grubbs' | 'mad';
  readonly message: string;
}

/** Mean, standard deviation and two-sided interval of the mean. `null`: see `why` or `warnings`. */
export interface DifferenceSummary {
  readonly mean: number | null;
  readonly sd: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

/** Limits of agreement and the interval of each limit. */
export interface LimitsOfAgreement {
  readonly low: number | null;
  readonly high: number | null;
  readonly low_interval: readonly [number | null, number | null];
  readonly high_interval: readonly [number | null, number | null];
}

export interface DriftResult {
  /** Degree of the polynomial in time that the factor's model carries. */
  readonly degree: number | null;
  /** Degree that the corrected Akaike criterion would pick: what the data show. */
  readonly evident_degree: number | null;
  /** Mean change per run, in percent. */
  readonly percent_per_run: number | null;
  readonly percent_per_run_interval: readonly [number | null, number | null];
  /** Standard deviation of a wandering source from run to run, in percent; 0 where not evident. */
  readonly wander_percent_per_run: number | null;
  /** Bias that the plain mean of lap differences carries, in percent (candidate over reference). */
  readonly order_bias_percent: number | null;
}

/** The factor of one series relative to this reference. */
export interface SeriesFactor {
  readonly value: number | null;
  readonly relative_standard_uncertainty: number | null;
  readonly dof: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

export type SeriesVerdict = 'usable' | 'inconclusive';

export interface SeriesResult {
  readonly id: string;
  readonly source: string;
  readonly wavelength_nm: number;
  readonly laps: number;
  readonly used: { readonly reference: number; readonly candidate: number };
  readonly excluded: readonly Exclusion[];
  readonly exclusion_effects: readonly ExclusionEffect[];
  readonly flagged: readonly Flag[];
  readonly difference_mW: DifferenceSummary;
  readonly difference_percent: DifferenceSummary;
  readonly limits_mW: LimitsOfAgreement;
  readonly limits_percent: LimitsOfAgreement;
  readonly drift: DriftResult;
  readonly factor: SeriesFactor;
  /** The factor by a second road: every candidate run against the bracketing reference runs. */
  readonly factor_bracketed: SeriesFactor;
  /** Scatter of single readings about the drift, as fractions. */
  readonly repeatability: {
    readonly reference: number | null;
    readonly candidate: number | null;
  };
  /** Lowest and highest used candidate and reference reading, in mW. */
  readonly candidate_range_mW: Interval | null;
  readonly reference_range_mW: Interval | null;
  readonly verdict: SeriesVerdict;
  /** Laps that would have to be added for the interval to meet the tolerance; `null`: not needed or not computable (see `why`). */
  readonly further_laps: number | null;
  readonly why: string;
}

/** A series as agreement asks for it: its result and the laps that are kept. */
export interface ComparedSeries {
  readonly result: SeriesResult;
  readonly laps: readonly LapPair[];
}
