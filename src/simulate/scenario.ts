import type { PlacementWord } from '../plan/placement.js';
import type { Filter, MeterRole, Opinion, RunOrder, StudyRecord } from '../vocabulary.js';
import type { BenchOptions } from './benchOptions.js';

/** A meter as study.json describes it. */
export interface ScenarioMeter {
  readonly name: string;
  readonly resolution_mW: number;
  readonly rated_max_mW?: number;
  readonly expanded_uncertainty_percent?: number;
  readonly coverage_factor?: number;
  readonly wavelength_setting?: boolean;
  readonly time_constant_s?: number;
}

/** What study.json says; written to the file as it stands. */
export interface ScenarioStudy {
  readonly title: string;
  readonly record?: Partial<StudyRecord>;
  readonly reference: ScenarioMeter;
  readonly candidate: ScenarioMeter;
  readonly sources: readonly {
    readonly name: string;
    readonly wavelength_nm: number;
    readonly label_class?: string;
    readonly label_max_mW?: number;
  }[];
  readonly filters?: readonly Filter[];
  readonly protocol?: {
    readonly order?: RunOrder;
    readonly discard_first_laps?: number;
    readonly read_at_s?: number;
    readonly placement?: PlacementWord;
  };
  readonly between_series_percent?: number;
  readonly tolerance_percent?: number;
  readonly confidence?: number;
}

/** How a reading was typed wrongly: "374" for a display of 37.4. */
export type Slip = 'decimal-point-left-out';

/** A run that went wrong or was remarked on. */
export interface Incident {
  /** 1-based place in its series. */
  readonly run: number;
  /** The reading is multiplied by this; default 1. */
  readonly reading_factor?: number;
  /** What went wrong when the reading was typed into the table; the display was right. */
  readonly slip?: Slip;
  /** Reason for which the run was left out. */
  readonly exclude?: string;
  readonly note?: string;
}

/** One part of a beam that holds several wavelengths. */
export interface BeamPart {
  readonly wavelength_nm: number;
  readonly power_mW: number;
  /** The candidate's true K at this wavelength. */
  readonly factor: number;
}

/** One series of a scenario. The bench gets its resolution from the meters of the study. */
export interface ScenarioSeries {
  readonly id: string;
  /** A name from the sources of the study. */
  readonly source: string;
  /** Minutes after the opening of the bench. */
  readonly starts_min: number;
  readonly bench: Omit<BenchOptions, 'label' | 'resolution_mW'>;
  /** By how much the reference reads high on this source, as a fraction; default 0. */
  readonly reference_error?: number;
  /** What placing the heads in this series did to the candidate: its reading times this; default 1. */
  readonly placement?: number;
  /**
   * One meter alone under two settings instead of two meters: what the bench calls the candidate
   * is this meter set to `to_nm`, and the bench's factor is reading(from) ÷ reading(to).
   */
  readonly setting?: {
    readonly meter: MeterRole;
    readonly from_nm: number;
    readonly to_nm: number;
  };
  /** Light of several wavelengths, in place of the bench's level and factor. */
  readonly beam?: readonly BeamPart[];
  /** Name of the filter in the beam during the whole series. */
  readonly filter?: string;
  readonly incidents?: readonly Incident[];
  /** Record every run against time; needs `bench.lag`. */
  readonly trace?: { readonly every_s: number; readonly until_s: number };
}

/** A value from elsewhere, as opinions.json holds it. */
export type ScenarioOpinion = Omit<Opinion, 'note'> & { readonly note?: string };

/** An invented study: who measured what with which meters, and what is wrong with them. */
export interface Scenario {
  /** Name of its folder. */
  readonly folder: string;
  readonly seed: number;
  /** Moment from which `starts_min` counts, ISO 8601; `null`: nobody wrote down times. */
  readonly opens_at: string | null;
  readonly layout: 'tidy' | 'side-by-side';
  readonly study: ScenarioStudy;
  readonly series: readonly ScenarioSeries[];
  readonly opinions?: readonly ScenarioOpinion[];
  /** Who, where and why; one paragraph each. */
  readonly story: readonly string[];
  /** What is hidden in the data. */
  readonly hidden: readonly string[];
  /** What a good analysis should find. */
  readonly expect: readonly string[];
}
