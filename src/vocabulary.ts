/**
 * The words of the trade as types. One word, one meaning, everywhere.
 *
 * Power is in mW, wavelength in nm, time in s. Relative quantities are fractions, except in fields
 * whose name ends in `percent`. Terms follow the VIM (JCGM 200) and the GUM (JCGM 100).
 */

/** `reference` is the trusted meter, `candidate` the one to be corrected. */
export type MeterRole = 'reference' | 'candidate';

/** An instrument that shows optical power. */
export interface Meter {
  readonly role: MeterRole;
  readonly name: string;
  /** Smallest step of the display in mW; `null` when not stated. */
  readonly resolution_mW: number | null;
  readonly rated_max_mW: number | null;
  /** Expanded uncertainty of its calibration in percent of reading; `null` when not stated. */
  readonly expanded_uncertainty_percent: number | null;
  /** Coverage factor that belongs to the expanded uncertainty (default 2 when only U is stated). */
  readonly coverage_factor: number;
  /** Whether the meter has to be told the wavelength; `null` when not stated. */
  readonly wavelength_setting: boolean | null;
  /** Time constant of the sensor in s; `null` when not stated. */
  readonly time_constant_s: number | null;
}

/** The laser in front of the meters. */
export interface Source {
  readonly name: string;
  readonly wavelength_nm: number;
  /** Class printed on the label, as typed; `null` when not stated. */
  readonly label_class: string | null;
  readonly label_max_mW: number | null;
}

/** Orders of a side-by-side table: which meter goes first in each lap. */
export type RunOrder = 'reference-first' | 'candidate-first' | 'ABBA' | 'ABBA-BAAB';

export interface Protocol {
  readonly order: RunOrder | null;
  /** Laps at the start of every series that were declared beforehand to be warm-up. */
  readonly discard_first_laps: number;
  /** Time after switch-on at which the reading was taken; `null` when not stated. */
  readonly read_at_s: number | null;
  /** Whether a first lap that the rest contradicts is left out (default true). */
  readonly exclude_cold_starts: boolean;
  /** Whether statistical outliers are left out (default false: they are flagged and kept). */
  readonly exclude_outliers: boolean;
}

/** One switch-on of the source on one meter, ending in one reading. */
export interface Run {
  /** 1-based place within its series, in the order things happened. */
  readonly run: number;
  /** 1-based lap it belongs to; `null` for a run without a partner next to it. */
  readonly lap: number | null;
  /** Row of runs.csv as a spreadsheet shows it (the header is row 1). */
  readonly row: number;
  readonly meter: MeterRole;
  /** Settled reading with the zero subtracted, in mW. */
  readonly reading_mW: number;
  /** Peak reading with the zero subtracted, in mW; `null` when not recorded. */
  readonly peak_mW: number | null;
  /** The zero that was subtracted; `null` when not recorded. */
  readonly zero_mW: number | null;
  /** Time since the first run of the series in s; evenly spaced by 1 s when none was recorded. */
  readonly time_s: number;
  readonly setting_nm: number | null;
  /** A reason in words when the user left the run out. */
  readonly exclude: string | null;
  readonly note: string | null;
}

/** Consecutive alternated runs on one source at one power level. */
export interface Series {
  readonly id: string;
  /** Name of the source. */
  readonly source: string;
  readonly wavelength_nm: number;
  readonly runs: readonly Run[];
  /** Whether `time_s` was recorded; `false` means evenly spaced by assumption. */
  readonly timed: boolean;
  /**
   * `comparison`: both meters take part. `setting`: one meter alone under two or more wavelength
   * settings.
   */
  readonly kind: 'comparison' | 'setting';
  /** Name of the filter in the beam during the whole series; `null` for none. */
  readonly filter: string | null;
}

/** A filter in front of the meters and what it lets through. */
export interface Filter {
  readonly name: string;
  readonly transmissions: readonly {
    readonly wavelength_nm: number;
    /** Fraction from 0 to 1. */
    readonly transmission: number;
    readonly standard_uncertainty: number;
  }[];
}

/** Readings against time within one run. */
export interface Trace {
  readonly series: string;
  readonly run: number;
  readonly meter: MeterRole;
  readonly elapsed_s: readonly number[];
  readonly reading_mW: readonly number[];
}

/** A value for a source from somewhere else. */
export interface Opinion {
  readonly source: string;
  readonly kind: 'certificate' | 'maker' | 'third-meter';
  readonly value_mW: number;
  /** Expanded uncertainty in mW; `null` when not stated. */
  readonly expanded_uncertainty_mW: number | null;
  readonly coverage_factor: number | null;
  /**
   * Standard uncertainty in mW that the value shares with the study's reference, because both lean
   * on one calibration; left out when not stated: taken as independent.
   */
  readonly common_standard_uncertainty_mW?: number;
  readonly date: string | null;
  readonly note: string | null;
}

/** A read and checked study: everything the analysis needs, and nothing else. */
export interface Study {
  readonly title: string;
  readonly reference: Meter;
  readonly candidate: Meter;
  readonly sources: readonly Source[];
  readonly filters: readonly Filter[];
  readonly protocol: Protocol;
  /** How far a corrected reading may be off and still serve, as a fraction. */
  readonly tolerance: number;
  /** Whether the study states its tolerance, or the default of 5 % stands in. */
  readonly tolerance_stated: boolean;
  /** Confidence level of every interval, as a fraction (default 0.95). */
  readonly confidence: number;
  /** Limits of agreement are bias ± this many standard deviations (default 1.96). */
  readonly limits_multiplier: number;
  /** Stated between-series standard deviation as a fraction; `null` when not stated. */
  readonly between_series: number | null;
  readonly layout: 'tidy' | 'side-by-side';
  readonly series: readonly Series[];
  readonly traces: readonly Trace[];
  readonly opinions: readonly Opinion[];
  /** SHA-256 of the study's content, hex. */
  readonly data_sha256: string;
  /** What reading the files gave cause to say. */
  readonly warnings: readonly Warning[];
}

/** Something the reader of a result has to know. */
export interface Warning {
  readonly code: string;
  readonly message: string;
  readonly series?: string;
}

/** A closed interval [low, high]. */
export type Interval = readonly [low: number, high: number];

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

/** One line of an uncertainty budget. */
export interface Contribution {
  readonly name: string;
  readonly relative_standard_uncertainty: number;
  /** Degrees of freedom; `KNOWN_EXACTLY` (1e6) stands for infinity, which JSON lacks. */
  readonly dof: number;
  readonly type: 'A' | 'B';
  /** Part of the combined variance, 0 to 1. */
  readonly share: number;
  /** Where the number comes from, in words. */
  readonly note: string;
}

/** Degrees of freedom of an uncertainty that is taken as known exactly; JSON has no infinity. */
export const KNOWN_EXACTLY = 1e6;

export type WavelengthVerdict = 'within-tolerance' | 'correct-it' | 'not-shown' | 'inconclusive';

export interface WavelengthResult {
  readonly wavelength_nm: number;
  readonly series: readonly string[];
  readonly factor: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly dof: number | null;
  readonly relative_standard_uncertainty: number | null;
  readonly relative_expanded_uncertainty: number | null;
  readonly coverage_factor: number | null;
  readonly between_series_relative_sd: number | null;
  /** Spread to reckon with when a reading is corrected on another day, as a fraction, and its dof. */
  readonly next_series_relative_sd: number | null;
  readonly next_series_dof: number | null;
  /** U of a reading corrected on another day, its own scatter and display step aside, a fraction. */
  readonly corrected_reading_relative_U: number | null;
  readonly budget: readonly Contribution[];
  /** What the budget lacks because nobody recorded it. */
  readonly not_in_budget: readonly string[];
  /** The same interval by Monte Carlo (JCGM 101), and whether both agree. */
  readonly monte_carlo: MonteCarloCheck | null;
  /** Indications of the candidate between which the factor was measured, in mW. */
  readonly candidate_range_mW: Interval | null;
  readonly verdict: WavelengthVerdict;
  /** What would improve the uncertainty most. */
  readonly next_step: string;
  readonly why: string;
}

export interface MonteCarloCheck {
  readonly low: number;
  readonly high: number;
  readonly trials: number;
  readonly seed: number;
  readonly stable: boolean;
  readonly agrees: boolean;
}

export interface CommonFactor {
  readonly supported: boolean;
  readonly p: number | null;
  readonly factor: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly why: string;
}

/** Laser classes of IEC 60825-1 that a power measurement of a whole beam can award. */
export type LaserClass = '1' | '2' | '3R' | '3B' | '4';

export interface HazardResult {
  readonly source: string;
  readonly wavelength_nm: number;
  readonly highest_mW: number | null;
  readonly upper_mW: number | null;
  /** Highest class that the data cannot exclude. */
  readonly class: LaserClass | null;
  readonly reading_class: LaserClass | null;
  readonly decided: boolean;
  readonly label_class: string | null;
  readonly label_max_mW: number | null;
  readonly label_understates: boolean | null;
  readonly why: string;
}

/** What one meter shows under two wavelength settings. */
export interface SettingResult {
  readonly series: string;
  readonly source: string;
  readonly wavelength_nm: number;
  readonly meter: MeterRole;
  readonly from_nm: number;
  readonly to_nm: number;
  /** Reading at `to_nm` over reading at `from_nm`. */
  readonly ratio: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly relative_standard_uncertainty: number | null;
  readonly why: string;
}

/** Infrared beside the wanted line of a source, from series with and without a filter. */
export interface InfraredResult {
  readonly source: string;
  readonly filter: string;
  readonly wavelength_nm: number;
  readonly wanted_mW: number | null;
  readonly infrared_mW: number | null;
  /** Infrared part of the unfiltered reading, 0 to 1. */
  readonly infrared_fraction: number | null;
  readonly infrared_fraction_standard_uncertainty: number | null;
  readonly why: string;
}

/** Agreement over the whole study: one point per series (replicates taken into account). */
export interface AgreementResult {
  /** Number of series with at least one complete lap. */
  readonly series: number;
  readonly laps: number;
  readonly difference_mW: DifferenceSummary;
  readonly difference_percent: DifferenceSummary;
  readonly limits_mW: LimitsOfAgreement;
  readonly limits_percent: LimitsOfAgreement;
  /** The same limits after each candidate reading is multiplied by its wavelength's factor. */
  readonly corrected_difference_percent: DifferenceSummary;
  readonly corrected_limits_percent: LimitsOfAgreement;
  /** Limits of agreement of the ratio candidate ÷ reference. */
  readonly ratio_limits: RatioAgreement;
  /** The mean difference by ranks alone. */
  readonly wilcoxon: SignedRankResult;
  /** Is the mean ratio shown to lie within the tolerance: as read, and after the correction? */
  readonly equivalence: {
    readonly before: EquivalenceResult;
    readonly after: EquivalenceResult;
  };
  readonly proportional_bias: ProportionalBiasResult;
  readonly against_level: AgreementAgainstLevel;
  /** A side note, never a verdict: see its `why`. */
  readonly concordance: ConcordanceResult;
  readonly why: string;
}

/** Ratio candidate ÷ reference: geometric mean over the series with its interval, and limits. */
export interface RatioAgreement {
  readonly ratio: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** Limits for one more lap, as ratios; 1 means equal. */
  readonly limits: LimitsOfAgreement;
  readonly why: string;
}

/** Signed-rank test of the series' mean differences. */
export interface SignedRankResult {
  readonly series: number;
  /** Two-sided p for differences symmetric about zero. */
  readonly p: number | null;
  /** Hodges and Lehmann's estimate of the difference and its interval, in percent. */
  readonly estimate_percent: number | null;
  readonly low_percent: number | null;
  readonly high_percent: number | null;
  /** Level that the interval reaches, at least the study's confidence. */
  readonly achieved_confidence: number | null;
  readonly why: string;
}

/** Two one-sided tests of the mean ratio candidate ÷ reference against the tolerance. */
export interface EquivalenceResult {
  readonly decision: 'equivalent' | 'not-shown';
  /** Geometric mean of the series' ratios, and the interval that the two tests amount to. */
  readonly ratio: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** The larger of both p values. */
  readonly p: number | null;
  /** Margins that the interval has to keep within: 1 ∓ tolerance. */
  readonly margins: Interval;
  readonly why: string;
}

/** Change of ln(candidate ÷ reference) per unit of ln(level): 0 when the ratio is the same everywhere. */
export interface ProportionalBiasResult {
  readonly slope: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly p: number | null;
  /** Lowest and highest level (geometric mean of both meters), in mW. */
  readonly range_mW: Interval | null;
  readonly why: string;
}

/**
 * Whether something changes with the level. `may-be-colour`: it does, and the wavelengths change along
 * with the level, so nobody can tell which of the two it is.
 */
export type LevelChange = 'shown' | 'not-shown' | 'may-be-colour' | 'not-computable';

/** Slope of a line against the level, in the scale of its record. */
export interface LevelSlope {
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** Two-sided p of slope 0; `null` also when the points lie on the line exactly. */
  readonly p: number | null;
}

/** Bias and limits of agreement at one level, in percent of the reference or in mW. */
export interface AgreementAtLevel extends LimitsOfAgreement {
  readonly place: 'lowest' | 'middle' | 'highest';
  /** Mean of both meters, in mW. */
  readonly level_mW: number;
  readonly bias: number;
  readonly bias_interval: Interval;
}

/** Difference against level: do bias and spread change with the power, and which limits serve? */
export interface AgreementAgainstLevel {
  /** Which limits of agreement serve the reader. */
  readonly description:
    | 'constant-percent'
    | 'constant-mW'
    | 'changes-with-level'
    | 'not-computable';
  /** Unit of the levels' numbers; slopes: ln(ratio) per unit of ln(level), or mW per mW. */
  readonly scale: 'percent' | 'mW' | null;
  readonly bias_change: LevelChange;
  readonly spread_change: LevelChange;
  readonly bias_slope: LevelSlope;
  readonly spread_slope: LevelSlope;
  /** Steepest slope of the bias, either way, that a noisier meter makes without any bias. */
  readonly slope_of_noise: number | null;
  /** At the lowest, the middle and the highest measured level; empty: see `why`. */
  readonly levels: readonly AgreementAtLevel[];
  readonly why: string;
}

/** Concordance correlation of the series' means, −1 to 1. */
export interface ConcordanceResult {
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** Pearson's correlation, and the factor from 0 to 1 that the bias costs. */
  readonly precision: number | null;
  readonly accuracy: number | null;
  readonly why: string;
}

/** A bend of candidate ÷ reference towards the top of the range. */
export interface PowerBend {
  readonly verdict:
    | 'reads-low-at-the-top'
    | 'reads-high-at-the-top'
    | 'not-shown'
    | 'not-computable';
  /** Reading at the top against what the gain at low power would give, in percent; negative: low. */
  readonly at_top_percent: number | null;
  readonly low_percent: number | null;
  readonly high_percent: number | null;
  readonly p: number | null;
  readonly dof: number | null;
  /** Mean of the reference in the highest series, in mW. */
  readonly top_mW: number | null;
  readonly why: string;
}

/** Does the correction need an offset beside the factor: corrected = offset + factor · candidate? */
export interface PowerOffset {
  readonly verdict: 'offset-shown' | 'offset-not-shown' | 'not-computable';
  readonly offset_mW: number | null;
  readonly low_mW: number | null;
  readonly high_mW: number | null;
  /** Factor beside that offset. */
  readonly factor: number | null;
  readonly p: number | null;
  readonly why: string;
}

/** Error of corrected readings of a series that the correction has not seen. */
export interface LeftOutPrediction {
  /** How many series the others can predict. */
  readonly predicted: number;
  /** Root mean square of corrected ÷ reference − 1, in percent; and without any correction. */
  readonly rms_error_percent: number | null;
  readonly uncorrected_rms_error_percent: number | null;
  readonly series: readonly {
    readonly id: string;
    /** Positive: the corrected reading lies above the reference. */
    readonly error_percent: number | null;
    readonly why: string;
  }[];
  readonly why: string;
}

/** Whether the factor depends on the power: one point a series. */
export interface PowerDependence {
  /** `null`: over all wavelengths, each with a gain of its own. */
  readonly wavelength_nm: number | null;
  readonly series: readonly string[];
  /** Lowest and highest series mean of the reference, in mW. */
  readonly range_mW: Interval | null;
  /** Judged by the scatter of these series alone. */
  readonly bend: PowerBend;
  /** Judged by the scatter between series that the rest of the study shows, or its default. */
  readonly bend_by_pooled_scatter: PowerBend;
  readonly offset: PowerOffset;
  readonly prediction: LeftOutPrediction;
}

export interface PowerResult {
  readonly by_wavelength: readonly PowerDependence[];
  readonly overall: PowerDependence;
}

/** One power of a study beside a value from elsewhere. */
export interface OpinionComparison {
  /** `corrected-candidate` leans on the reference: it is no third vote. */
  readonly meter: MeterRole | 'corrected-candidate';
  /** Mean of the used readings, in mW. */
  readonly value_mW: number | null;
  /** Standard uncertainty, in mW. Without a stated calibration: scatter and placement only. */
  readonly standard_uncertainty_mW: number | null;
  readonly calibration_stated: boolean;
  /** Ours minus theirs, and in percent of theirs. */
  readonly difference_mW: number | null;
  readonly difference_percent: number | null;
  readonly zeta: number | null;
  /** `null` without both calibrations stated. */
  readonly en: number | null;
  readonly verdict: 'agrees' | 'questionable' | 'disagrees' | 'too-high' | 'possible' | null;
  /** Against a maker's as-new value: too high by at least this, in percent. */
  readonly too_high_at_least_percent: number | null;
  readonly why: string;
}

/** A value from elsewhere, and what it says of the two meters. */
export interface OpinionResult {
  readonly source: string;
  readonly wavelength_nm: number;
  readonly kind: Opinion['kind'];
  readonly date: string | null;
  readonly value_mW: number;
  readonly standard_uncertainty_mW: number | null;
  /** Series that the comparison rests on. */
  readonly series: readonly string[];
  readonly comparisons: readonly OpinionComparison[];
  readonly supports: MeterRole | 'both' | 'neither' | 'undecided';
  readonly why: string;
}

/** Scatter from source to source of both meters and a third one, told apart. */
export interface ThreeInstruments {
  /** Sources that all three have measured. */
  readonly sources: readonly string[];
  readonly instruments: readonly {
    readonly meter: MeterRole | 'third-meter';
    /** Relative standard deviation as a fraction; `null`: the estimated variance came out negative. */
    readonly relative_sd: number | null;
  }[];
  readonly why: string;
}

/** An earlier factor against the one of this study. */
export interface ChangeOfFactor {
  readonly wavelength_nm: number;
  readonly earlier_factor: number | null;
  readonly factor: number | null;
  /** Factor now ÷ factor then − 1, in percent, with its interval at the study's confidence. */
  readonly change_percent: number | null;
  readonly low_percent: number | null;
  readonly high_percent: number | null;
  /** Of the change, as a fraction, without what both factors have in common. */
  readonly relative_standard_uncertainty: number | null;
  readonly dof: number | null;
  readonly verdict: 'within' | 'moved' | 'not-shown' | 'not-comparable';
  readonly why: string;
}

/** The factors of an earlier study against those of this one. */
export interface ThenAndNow {
  readonly earlier_title: string;
  readonly earlier_data_sha256: string;
  /** Whether both studies lean on the same reference under the same stated uncertainty. */
  readonly same_reference: boolean;
  /** Relative standard uncertainty left out as common to both; `null`: nothing was left out. */
  readonly common_relative_standard_uncertainty: number | null;
  readonly wavelengths: readonly ChangeOfFactor[];
  readonly why: string;
}

/** What a value on a control chart breaks, in the order of how loudly it speaks. */
export type ChartSignal =
  | 'beyond the limits'
  | 'two of three beyond two thirds of the limit'
  | 'four of five beyond a third of the limit'
  | 'eight in a row on one side'
  | 'beyond the limits from the uncertainty';

/** The factor of one wavelength at one time, among several times. */
export interface ReCheck {
  readonly title: string;
  readonly data_sha256: string;
  /** `null`: not on the chart. */
  readonly factor: number | null;
  /** Interval at the study's confidence, without what all values of the chart have in common. */
  readonly low: number | null;
  readonly high: number | null;
  /** As a fraction, without what all values have in common. */
  readonly relative_standard_uncertainty: number | null;
  readonly signals: readonly ChartSignal[];
  readonly why: string;
}

/** The factors of one wavelength from several studies on a control chart. */
export interface ReChecks {
  readonly wavelength_nm: number;
  /** Oldest first; the latest study is the last. */
  readonly values: readonly ReCheck[];
  /** Whether all values lean on the same reference under the same stated uncertainty. */
  readonly same_reference: boolean;
  /** Relative standard uncertainty left out as common to all; `null`: nothing was left out. */
  readonly common_relative_standard_uncertainty: number | null;
  /** Geometric mean of the factors. */
  readonly centre: number | null;
  /** Limits from the scatter of the values. */
  readonly limits: Interval | null;
  /** Limits from their uncertainties. */
  readonly limits_from_uncertainty: Interval | null;
  /** Scatter found over scatter that the uncertainties explain. */
  readonly scatter_ratio: number | null;
  /** The last value on the chart against the first. */
  readonly since_first: ChangeOfFactor | null;
  readonly in_control: boolean | null;
  readonly why: string;
}

/** What `analyse` returns and result.json holds. */
export interface Result {
  readonly schema: 'meterpair.result/1';
  readonly data_sha256: string;
  readonly title: string;
  readonly reference: string;
  readonly candidate: string;
  readonly confidence: number;
  readonly tolerance_percent: number;
  readonly seed: number;
  readonly series: readonly SeriesResult[];
  readonly settings: readonly SettingResult[];
  readonly infrared: readonly InfraredResult[];
  readonly agreement: AgreementResult;
  readonly wavelengths: readonly WavelengthResult[];
  readonly common_factor: CommonFactor;
  readonly power: PowerResult;
  readonly opinions: readonly OpinionResult[];
  readonly three_instruments: ThreeInstruments;
  /** `null` when no earlier factors were given. */
  readonly then_and_now: ThenAndNow | null;
  /** One a wavelength of any of the studies; `null` below two earlier studies. */
  readonly re_checks: readonly ReChecks[] | null;
  readonly hazard: readonly HazardResult[];
  readonly warnings: readonly Warning[];
}

/** What the correction step knows about one wavelength. */
export interface FactorEntry {
  readonly wavelength_nm: number;
  readonly factor: number;
  readonly low: number;
  readonly high: number;
  readonly relative_standard_uncertainty: number;
  readonly dof: number;
  readonly relative_expanded_uncertainty: number;
  readonly coverage_factor: number;
  /** Indications of the candidate between which the factor was measured, in mW. */
  readonly candidate_range_mW: Interval;
  /** Scatter of one candidate reading, as a fraction. */
  readonly reading_relative_sd: number;
  readonly reading_dof: number;
  /**
   * Spread between series (placement, source) to reckon with in a new reading, as a fraction.
   * Missing in files of before it was written.
   */
  readonly next_series_relative_sd?: number;
  readonly next_series_dof?: number;
  readonly verdict: WavelengthVerdict;
  /** Who contradicts the reference at this wavelength; left out where nobody does. */
  readonly reference_contradicted_by?: readonly Opinion['kind'][];
}

/** What factors.json holds: the analysis in the form that corrects new readings. */
export interface Factors {
  readonly schema: 'meterpair.factors/1';
  readonly data_sha256: string;
  readonly title: string;
  /** Multiply a candidate reading by the factor. */
  readonly direction: 'corrected = factor × candidate reading';
  readonly reference: {
    readonly name: string;
    readonly uncertainty_stated: boolean;
    /**
     * Relative standard uncertainty of its calibration, which every factor carries; `null` when not
     * stated. Missing in files of before it was written.
     */
    readonly relative_standard_uncertainty?: number | null;
  };
  readonly candidate: {
    readonly name: string;
    readonly resolution_mW: number | null;
    readonly rated_max_mW: number | null;
  };
  readonly confidence: number;
  readonly tolerance_percent: number;
  readonly wavelength_range_nm: Interval | null;
  readonly factors: readonly FactorEntry[];
  readonly cautions: readonly string[];
}

/** A corrected reading. */
export interface CorrectedReading {
  /** Corrected power in mW. */
  readonly value: number;
  /** Expanded uncertainty of the corrected power in mW. */
  readonly U: number;
  /** Coverage factor of `U`. */
  readonly k: number;
  readonly low: number;
  readonly high: number;
  readonly factor: number;
  readonly dof: number;
  readonly cautions: readonly Warning[];
}
