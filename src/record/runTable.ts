/** runs.csv as read: checked cell by cell, not yet put together into series. */
import type { ErrorParts } from '../error.js';
import type { MeterRole } from '../vocabulary.js';
import type { Columns } from './columns.js';
import type { Moment } from './moment.js';

/** One reading with what was recorded beside it, zero already subtracted. */
export interface EntryReading {
  readonly meter: MeterRole;
  readonly reading_mW: number;
  readonly peak_mW: number | null;
  readonly zero_mW: number | null;
  /** Highest number that the display showed, in mW. */
  readonly indicated_mW: number;
}

/** One row of runs.csv: a run (tidy), or the two runs of a lap (side by side, reference first). */
export interface RunEntry {
  readonly row: number;
  readonly series: string;
  readonly source: string;
  readonly filter: string;
  readonly wavelength_nm: number | null;
  readonly setting_nm: number | null;
  readonly started: Moment | null;
  readonly exclude: string | null;
  readonly checked: boolean;
  readonly note: string | null;
  readonly readings: readonly EntryReading[];
}

/** A planned row that waits for its reading. */
export interface WaitingRow {
  readonly row: number;
  /** Name as typed; empty where the table names no series. */
  readonly series: string;
  /** As typed; empty with one row a lap. */
  readonly meter: string;
}

export type RunLayout = 'tidy' | 'side-by-side';

export interface RunTable {
  readonly layout: RunLayout;
  readonly columns: Columns;
  readonly entries: readonly RunEntry[];
  /** Planned rows below the last one that was measured. */
  readonly waiting: readonly WaitingRow[];
  /** Peaks below their readings: faults, unless a slip of the pen explains them. */
  readonly doubts: readonly ErrorParts[];
}
