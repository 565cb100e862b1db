/** Values from elsewhere, and what they say of the meters. */
import type { MeterRole, Opinion } from './study.js';

/** One power of a study beside a value from elsewhere. */
export interface OpinionComparison {
  /** `corrected-candidate` leans on the reference: it is no third vote. */
  readonly meter: MeterRole | 'corrected-candidate';
  /** Mean of the used readings, in mW. */
  readonly value_mW: number | null;
  /** Standard uncertainty, in mW. Without a stated calibration: scatter and placement only. */
  readonly standard_uncertainty_mW: number | null;
  /** `false`: u holds scatter and placement only. */
  readonly calibration_stated: boolean;
  /** Ours minus theirs, and in percent of theirs. */
  readonly difference_mW: number | null;
  readonly difference_percent: number | null;
  /** Difference over its standard uncertainty. */
  readonly zeta: number | null;
  /** Difference over its expanded uncertainty (k = 2); `null` without both calibrations stated. */
  readonly en: number | null;
  /** The last two against a maker's value. */
  readonly verdict: 'agrees' | 'questionable' | 'disagrees' | 'too-high' | 'possible' | null;
  /** Against a maker's as-new value: too high by at least this, in percent. */
  readonly too_high_at_least_percent: number | null;
  /** In words. */
  readonly why: string;
}

/** A value from elsewhere, and what it says of the two meters. */
export interface OpinionResult {
  /** As in opinions.json. */
  readonly source: string;
  /** In nm. */
  readonly wavelength_nm: number;
  /** As in opinions.json. */
  readonly kind: Opinion['kind'];
  /** As in opinions.json. */
  readonly date: string | null;
  /** As in opinions.json. */
  readonly value_mW: number;
  /** U/k; `null` unless both are stated. */
  readonly standard_uncertainty_mW: number | null;
  /** Series that the comparison rests on. */
  readonly series: readonly string[];
  /** Empty when the source has no single power. */
  readonly comparisons: readonly OpinionComparison[];
  /** Which meter the value supports. */
  readonly supports: MeterRole | 'both' | 'neither' | 'undecided';
  /** In words, with what is taken for granted. */
  readonly why: string;
}

/** Scatter from source to source of both meters and a third one, told apart. */
export interface ThreeInstruments {
  /** Sources that all three have measured. */
  readonly sources: readonly string[];
  /** Empty below three sources. */
  readonly instruments: readonly {
    /** Which instrument. */
    readonly meter: MeterRole | 'third-meter';
    /** Relative standard deviation as a fraction; `null`: the estimated variance came out negative. */
    readonly relative_sd: number | null;
  }[];
  /** In words. */
  readonly why: string;
}
