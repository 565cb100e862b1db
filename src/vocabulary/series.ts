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
  /** Place in the series, from 1. */
  readonly run: number;
  /** Which meter. */
  readonly meter: MeterRole;
  /** Why it is left out (docs/methods/screening.md). */
  readonly kind: ExclusionKind;
  /** In words. */
  readonly reason: string;
}

/** How the factor answers to leaving one kind of run out. `null` when it cannot be computed. */
export interface ExclusionEffect {
  /** Which exclusions. */
  readonly kind: ExclusionKind;
  /** Their places in the series. */
  readonly runs: readonly number[];
  /** K of the series with these runs and without them. */
  readonly factor_with: number | null;
  readonly factor_without: number | null;
}

/** A run that looks odd by statistics alone: flagged, and kept unless the protocol says otherwise. */
export interface Flag {
  /** Place in the series, from 1. */
  readonly run: number;
  /** Which meter. */
  readonly meter: MeterRole;
  /** Test that flagged it. */
  readonly test: 'generalised-esd' | 'grubbs' | 'mad';
  /** What was found. */
  readonly message: string;
}

/** Mean, standard deviation and two-sided interval of the mean. `null`: see `why` or `warnings`. */
export interface DifferenceSummary {
  /** Mean and standard deviation, in the unit that the field's name says; positive: the candidate shows more. */
  readonly mean: number | null;
  readonly sd: number | null;
  /** Interval of the mean. */
  readonly low: number | null;
  readonly high: number | null;
}

/** Limits of agreement and the interval of each limit. */
export interface LimitsOfAgreement {
  /** Limits of agreement. */
  readonly low: number | null;
  readonly high: number | null;
  /** Interval of each limit. */
  readonly low_interval: readonly [number | null, number | null];
  readonly high_interval: readonly [number | null, number | null];
}

/** How the power of the source changes within a series. */
export interface DriftResult {
  /** Degree of the polynomial in time that the factor's model carries. */
  readonly degree: number | null;
  /** Degree that the corrected Akaike criterion would pick: what the data show. */
  readonly evident_degree: number | null;
  /** Mean change per run in percent; positive: rising. */
  readonly percent_per_run: number | null;
  /** Of that. */
  readonly percent_per_run_interval: readonly [number | null, number | null];
  /** Standard deviation of a wandering source from run to run, in percent; 0 where not evident. */
  readonly wander_percent_per_run: number | null;
  /** Bias that the plain mean of lap differences carries, in percent (candidate over reference). */
  readonly order_bias_percent: number | null;
}

/** The factor of one series relative to this reference. */
export interface SeriesFactor {
  /** K. */
  readonly value: number | null;
  /** As a fraction; degrees of freedom. */
  readonly relative_standard_uncertainty: number | null;
  readonly dof: number | null;
  /** Its interval. */
  readonly low: number | null;
  readonly high: number | null;
}

export type SeriesVerdict = 'usable' | 'inconclusive';

/** What one series gives. */
export interface SeriesResult {
  /** Names. */
  readonly id: string;
  readonly source: string;
  /** In nm. */
  readonly wavelength_nm: number;
  /** Complete laps, left-out ones included. */
  readonly laps: number;
  /** Number of runs that the factor rests on. */
  readonly used: {
    /** Of each meter. */
    readonly reference: number;
    readonly candidate: number;
  };
  /** Runs left out. */
  readonly excluded: readonly Exclusion[];
  /** What leaving them out does. */
  readonly exclusion_effects: readonly ExclusionEffect[];
  /** Runs that look odd by statistics alone. */
  readonly flagged: readonly Flag[];
  /** Over the kept laps, in mW and in percent of the reference. */
  readonly difference_mW: DifferenceSummary;
  readonly difference_percent: DifferenceSummary;
  /** Limits of agreement of single laps. */
  readonly limits_mW: LimitsOfAgreement;
  readonly limits_percent: LimitsOfAgreement;
  /** Of the source within the series. */
  readonly drift: DriftResult;
  /** K relative to this reference: repeatability, drift and order only. */
  readonly factor: SeriesFactor;
  /** The factor by a second road: every candidate run against the bracketing reference runs. */
  readonly factor_bracketed: SeriesFactor;
  /** Scatter of single readings about the drift, as fractions. */
  readonly repeatability: {
    /** Of each meter. */
    readonly reference: number | null;
    readonly candidate: number | null;
  };
  /** Lowest and highest used candidate and reference reading, in mW. */
  readonly candidate_range_mW: Interval | null;
  readonly reference_range_mW: Interval | null;
  /** Whether the interval of K serves the tolerance. */
  readonly verdict: SeriesVerdict;
  /** Laps that would have to be added for the interval to meet the tolerance; `null`: not needed or not computable (see `why`). */
  readonly further_laps: number | null;
  /** Reason of the verdict. */
  readonly why: string;
}

/** A series as agreement asks for it: its result and the laps that are kept. */
export interface ComparedSeries {
  readonly result: SeriesResult;
  readonly laps: readonly LapPair[];
}
