/** Entries that look like a slip of the pen. */
import type { MeterRole } from './study.js';

/**
 * `decimal-place`: the decimal point in another place. `digits`: two neighbouring digits exchanged.
 * `exchanged`: the two meters of a lap, or of a whole series. `unit`: a thousand times too large or
 * too small. `repeated`: a row written twice. `other`: impossible, and no single slip explains it.
 */
export type SlipKind = 'decimal-place' | 'digits' | 'exchanged' | 'unit' | 'repeated' | 'other';

/**
 * An entry, or several that one slip explains, to be compared with the display again. Its series gives no
 * verdict until it is settled.
 */
export interface Suspect {
  /** Row of runs.csv as a spreadsheet shows it (the header is row 1): the first, or the only one. */
  readonly row: number;
  /** All rows of the slip. */
  readonly rows: readonly number[];
  /** Name. */
  readonly series: string;
  /** Whose display. */
  readonly meter: MeterRole;
  /** What kind of slip (docs/methods/slips.md). */
  readonly kind: SlipKind;
  /** What was typed, in mW as the display showed it, before the zero is subtracted; of `row`. */
  readonly found: number;
  /** What the display most likely showed; `null` where the data do not tell. */
  readonly likely: number | null;
  /** In words, with what to do. */
  readonly message: string;
  /** Which number of the row; left out: the reading. */
  readonly quantity?: 'reading' | 'peak' | 'zero';
}

/** A suspect in a result, with what it does to the factor of its series. */
export interface SuspectResult extends Suspect {
  /** K of the series as typed, without the entry, and with the likely values; `null`: see `why`. */
  readonly factor_as_typed: number | null;
  readonly factor_without: number | null;
  readonly factor_likely: number | null;
  /** The three in words. */
  readonly why: string;
}
