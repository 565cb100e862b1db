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
