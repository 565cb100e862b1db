/** What a source may be, judged on the safe side. */

/** Laser classes of IEC 60825-1 that a power measurement of a whole beam can award. */
export type LaserClass = '1' | '2' | '3R' | '3B' | '4';

/** A screening aid, never a classification: IEC 60825-1, local rules and a laser safety officer decide. */
export interface HazardResult {
  /** Name. */
  readonly source: string;
  /** In nm. */
  readonly wavelength_nm: number;
  /** The most that was seen, in front of any filter, mW. */
  readonly highest_mW: number | null;
  /** The most that the data leave open, mW; `null`: nothing bounds it, and `class` is then 4. */
  readonly upper_mW: number | null;
  /** Which reading was the highest, and who else set the bound, in words; `null` without a reading. */
  readonly seen_in: string | null;
  /**
   * Highest class that the data cannot exclude; `null` for a pulsed source, for nothing above zero, or where the
   * limits are no power.
   */
  readonly class: LaserClass | null;
  /** That of `highest_mW` itself. */
  readonly reading_class: LaserClass | null;
  /** Whether both are the same, at every wavelength of the source and as typed. */
  readonly decided: boolean;
  /** As stated. */
  readonly label_class: string | null;
  /** As stated, mW. */
  readonly label_max_mW: number | null;
  /** Whether the label promises less than that. */
  readonly label_understates: boolean | null;
  /** In words. */
  readonly why: string;
}
