/** How far apart the meters are over the whole study. */
import type { DifferenceSummary, LimitsOfAgreement } from './series.js';
import type { Interval } from './study.js';

/** Agreement over the whole study: one point per series (replicates taken into account). */
export interface AgreementResult {
  /** Series with at least one complete lap; their laps. */
  readonly series: number;
  readonly laps: number;
  /** Each series counting once. */
  readonly difference_mW: DifferenceSummary;
  readonly difference_percent: DifferenceSummary;
  /** For one more lap of one more series. */
  readonly limits_mW: LimitsOfAgreement;
  readonly limits_percent: LimitsOfAgreement;
  /** The same after each candidate reading is multiplied by the factor of its wavelength. */
  readonly corrected_difference_percent: DifferenceSummary;
  /** Likewise. */
  readonly corrected_limits_percent: LimitsOfAgreement;
  /** Limits of agreement of the ratio candidate ÷ reference. */
  readonly ratio_limits: RatioAgreement;
  /** By ranks alone, means of series. */
  readonly wilcoxon: SignedRankResult;
  /** Mean ratio against the tolerance, means of series. */
  readonly equivalence: {
    /** As read; corrected, on the same data, without series that are alone at their wavelength. */
    readonly before: EquivalenceResult;
    readonly after: EquivalenceResult;
  };
  /** Does the ratio change with power? */
  readonly proportional_bias: ProportionalBiasResult;
  /** Do bias and spread change with the level, and which limits serve? */
  readonly against_level: AgreementAgainstLevel;
  /** A side note, never a verdict: see its `why`. */
  readonly concordance: ConcordanceResult;
  /** Reason of a `null`. */
  readonly why: string;
}

/** Ratio candidate ÷ reference: geometric mean over the series with its interval, and limits. */
export interface RatioAgreement {
  /** Geometric mean of the ratio over the series, and its interval. */
  readonly ratio: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** Limits for one more lap, as ratios; 1 means equal. */
  readonly limits: LimitsOfAgreement;
  /** Reason of a `null`. */
  readonly why: string;
}

/** Signed-rank test of the series' mean differences. */
export interface SignedRankResult {
  /** How many. */
  readonly series: number;
  /** Two-sided p for differences symmetric about zero. */
  readonly p: number | null;
  /** Hodges and Lehmann's estimate of the difference and its interval, in percent. */
  readonly estimate_percent: number | null;
  readonly low_percent: number | null;
  readonly high_percent: number | null;
  /** Level that the interval reaches, at least the study's confidence. */
  readonly achieved_confidence: number | null;
  /** Reason of a `null`. */
  readonly why: string;
}

/** Two one-sided tests of the mean ratio candidate ÷ reference against the tolerance. */
export interface EquivalenceResult {
  /** `not-shown` shows no difference either. */
  readonly decision: 'equivalent' | 'not-shown';
  /** Of the interval: 1 − 2α with α = 1 − the study's confidence, so 0.9 for a study at 0.95. */
  readonly confidence: number;
  /** Geometric mean of the series' ratios, relative to this reference, and its interval at this `confidence`. */
  readonly ratio: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** The larger of both p values. */
  readonly p: number | null;
  /** Margins that the interval has to keep within: 1 ∓ tolerance. */
  readonly margins: Interval;
  /** In words. */
  readonly why: string;
}

/** Change of ln(candidate ÷ reference) per unit of ln(level): 0 when the ratio is the same everywhere. */
export interface ProportionalBiasResult {
  /** Change of ln(ratio) per unit of ln(level): 0 when the ratio is the same everywhere. */
  readonly slope: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** Of slope 0, two-sided. */
  readonly p: number | null;
  /** Lowest and highest level (geometric mean of both meters), in mW. */
  readonly range_mW: Interval | null;
  /** What else makes a slope, reason of a `null`. */
  readonly why: string;
}

/**
 * Whether something changes with the level. `confounded`: it does, and the wavelengths change along
 * with the level, so nobody can tell which of the two it is.
 */
export type LevelChange = 'shown' | 'not-shown' | 'confounded' | 'not-computable';

/** Slope of a line against the level, in the scale of its record. */
export interface LevelSlope {
  /** Slope and its interval. */
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** Two-sided p of slope 0; `null` also when the points lie on the line exactly. */
  readonly p: number | null;
}

/**
 * Bias and limits of agreement for one more lap of one more series at one level, in percent of the reference
 * or in mW; the intervals are `null` where the spread changes. Where constant limits serve, these only
 * repeat them, less surely.
 */
export interface AgreementAtLevel extends LimitsOfAgreement {
  /** Which of the measured levels. */
  readonly place: 'lowest' | 'middle' | 'highest';
  /** Mean of both meters, in mW. */
  readonly level_mW: number;
  /** Candidate − reference there and its interval, in percent of the reference or in mW as `scale` says. */
  readonly bias: number;
  /** Of the bias. */
  readonly bias_interval: Interval;
}

/**
 * Difference against level: do bias and spread change with the power, and which limits serve? Each series
 * is one point, at the mean of both meters. In percent, slopes are those of ln(ratio) against ln(level);
 * in mW, those of the difference against the level.
 */
export interface AgreementAgainstLevel {
  /** Which limits of agreement serve the reader. */
  readonly description:
    | 'constant-percent'
    | 'constant-mW'
    | 'changes-with-level'
    | 'not-computable';
  /** Unit of the levels' numbers; slopes: ln(ratio) per unit of ln(level), or mW per mW. */
  readonly scale: 'percent' | 'mW' | null;
  /** `confounded`: wavelength and level change together. */
  readonly bias_change: LevelChange;
  readonly spread_change: LevelChange;
  /** Of the difference (weighted where the spread changes), and of the size of what remains about its line. */
  readonly bias_slope: LevelSlope;
  readonly spread_slope: LevelSlope;
  /** Steepest slope of the bias, either way, that a noisier meter makes without any bias. */
  readonly slope_of_noise: number | null;
  /** At the lowest, the middle and the highest measured level; empty: see `why`. */
  readonly levels: readonly AgreementAtLevel[];
  /** What it was judged by, reason of a `null`. */
  readonly why: string;
}

/** Concordance correlation of the series' means, −1 to 1. */
export interface ConcordanceResult {
  /** Concordance correlation, −1 to 1. */
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** Pearson's correlation, and the factor from 0 to 1 that the bias costs. */
  readonly precision: number | null;
  readonly accuracy: number | null;
  /** Why it is a side note. */
  readonly why: string;
}
