/** What a source may be, judged on the safe side. */

/** Laser classes of IEC 60825-1 that a power measurement of a whole beam can award. */
export type LaserClass = '1' | '2' | '3R' | '3B' | '4';

export interface HazardResult {
  readonly source: string;
  readonly wavelength_nm: number;
  readonly highest_mW: number | null;
  readonly upper_mW: number | null;
  /** Which reading was the highest, and who else set the bound, in words; `null` without a reading. */
  readonly seen_in: string | null;
  /** Highest class that the data cannot exclude. */
  readonly class: LaserClass | null;
  readonly reading_class: LaserClass | null;
  readonly decided: boolean;
  readonly label_class: string | null;
  readonly label_max_mW: number | null;
  readonly label_understates: boolean | null;
  readonly why: string;
}
