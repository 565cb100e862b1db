/** What was recorded: meters, sources, runs, series, and everything a study holds. */

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
  readonly serial: string | null;
  /** Limits of its departure from a straight line, ± percent of reading; `null` when not stated. */
  readonly linearity_percent: number | null;
  /** Limits of its drift since the calibration, ± percent a year; `null` when not stated. */
  readonly drift_percent_per_year: number | null;
  readonly certificate: Certificate | null;
  /** Months after which the comparison should be made again. */
  readonly recheck_after_months: number;
}

/** What a laboratory found of a meter. */
export interface Certificate {
  readonly number: string | null;
  readonly laboratory: string | null;
  /** ISO 8601 days; `null` when not stated. */
  readonly issued: string | null;
  readonly valid_until: string | null;
  readonly by_wavelength: readonly {
    readonly wavelength_nm: number;
    /** Multiplies a reading of the meter. */
    readonly correction_factor: number;
    readonly expanded_uncertainty_percent: number;
    readonly coverage_factor: number;
  }[];
}

/** When, where and by whom; what is not stated is `null`. */
export interface StudyRecord {
  readonly date: string | null;
  readonly place: string | null;
  readonly operator: string | null;
  readonly temperature_C: number | null;
  readonly distance_mm: number | null;
  readonly remarks: string | null;
}

/** The laser in front of the meters. */
export interface Source {
  readonly name: string;
  readonly wavelength_nm: number;
  /** Class printed on the label, as typed; `null` when not stated. */
  readonly label_class: string | null;
  readonly label_max_mW: number | null;
  /** How it emits; `null` when not stated. */
  readonly emission: 'continuous' | 'pulsed' | 'unknown' | null;
  readonly beam_diameter_mm: number | null;
}

/** Orders of a side-by-side table: which meter goes first in each lap. */
export type RunOrder = 'reference-first' | 'candidate-first' | 'ABBA' | 'ABBA-BAAB';

export interface Protocol {
  readonly order: RunOrder | null;
  /** Laps at the start of every series that were declared beforehand to be warm-up. */
  readonly discard_first_laps: number;
  /** Time after switch-on at which the reading was taken; `null` when not stated. */
  readonly read_at_s: number | null;
  /** How the heads were put back between series; `null` when not stated. */
  readonly placement: 'jig' | 'by-hand' | null;
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
  /** Reading with the zero subtracted, in mW: indication − zero, multiplied by `scale`. */
  readonly reading_mW: number;
  /**
   * What indication less zero was multiplied by to bring the reading to the kind that all readings
   * of the study are of (settled, right wavelength setting); 1 as read.
   */
  readonly scale: number;
  /** Peak reading with the zero subtracted, in mW; `null` when not recorded. */
  readonly peak_mW: number | null;
  /** The zero that was subtracted; `null` when not recorded. */
  readonly zero_mW: number | null;
  /** Time since the first run of the series in s; evenly spaced by 1 s when none was recorded. */
  readonly time_s: number;
  readonly setting_nm: number | null;
  /** A reason in words when the user left the run out. */
  readonly exclude: string | null;
  /** Whether the entry was compared with the display again and is what it showed. */
  readonly checked: boolean;
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
  /** Over how many seconds the power was averaged; left out: not stated. */
  readonly averaged_over_s?: number;
  readonly date: string | null;
  readonly note: string | null;
}

/** A read and checked study: everything the analysis needs, and nothing else. */
export interface Study {
  readonly title: string;
  readonly record: StudyRecord;
  readonly reference: Meter;
  readonly candidate: Meter;
  readonly sources: readonly Source[];
  readonly filters: readonly Filter[];
  readonly protocol: Protocol;
  /** How far a corrected reading may be off and still serve, as a fraction. */
  readonly tolerance: number;
  /** Whether the study states its tolerance, or the default of 5 % stands in. */
  readonly tolerance_stated: boolean;
  /** Confidence level of every interval that does not state its own, as a fraction (default 0.95). */
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
  /** SHA-256 of the readings alone, hex: the same under another title or with other settings. */
  readonly readings_sha256: string;
  /** What reading the files gave cause to say. */
  readonly warnings: readonly Warning[];
}

/** Something the reader of a result has to know. */
export interface Warning {
  /** For programs, for people. */
  readonly code: string;
  readonly message: string;
  /** Which series it is about. */
  readonly series?: string;
}

/** A closed interval [low, high]. */
export type Interval = readonly [low: number, high: number];
