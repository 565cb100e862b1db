/** The cells of one row of runs.csv, each with its own check. */
import type { ErrorParts } from '../error.js';
import type { MeterRole } from '../vocabulary.js';
import { cellFault, headingOf, numberOf, requiredNumberOf, textOf } from './cells.js';
import type { Columns } from './columns.js';
import { quoted } from './faults.js';
import { MOMENT_EXPECTED, type Moment, moment } from './moment.js';
import { numberCell } from './numberCell.js';
import type { EntryReading } from './runTable.js';
import {
  LONGEST_NAME,
  POWER_EXPECTED,
  POWER_MAX_MW,
  POWER_MIN_MW,
  WAVELENGTH_EXPECTED,
  WAVELENGTH_MAX_NM,
  WAVELENGTH_MIN_NM,
} from './studySchema.js';
import type { TableRow } from './table.js';

/**
 * One reading with its peak and zero; `null` when it has no number. A peak below its reading goes to
 * `doubts`: it is a fault unless the runs around it show that one of both is a slip of the pen.
 */
export function readingOf(
  columns: Columns,
  row: TableRow,
  which: { readonly meter: MeterRole; readonly quantity: string; readonly exclude: string | null },
  faults: ErrorParts[],
  doubts: ErrorParts[],
): EntryReading | null {
  const indicated = requiredNumberOf(columns, row, which.quantity, faults);
  const peak = numberOf(columns, row, 'peak', faults);
  const zero = numberOf(columns, row, 'zero', faults);
  if (indicated === null) return null;
  const heading = headingOf(columns, row, which.quantity);
  const typed = textOf(columns, row, which.quantity);
  if (peak !== null && peak < indicated) {
    const parts = {
      code: 'row-inconsistent',
      message:
        'The peak is lower than the settled reading of the same run, but it is the highest reading seen in it.',
      found: `peak "${textOf(columns, row, 'peak')}" and ${heading} "${typed}"`,
      expected: 'a peak not below the settled reading, or an empty cell if none was noted',
    } as const;
    doubts.push(cellFault(columns, row, 'peak', parts));
  }
  for (const [quantity, value] of [
    [which.quantity, indicated],
    ['peak', peak],
    ['zero', zero],
  ] as const) {
    if (value !== null) checkPower(columns, row, quantity, value, faults);
  }
  const net = indicated - (zero ?? 0);
  if (net <= 0 && which.exclude === null) {
    const zeroed = zero !== null && zero !== 0;
    const parts = {
      code: 'cell-out-of-range',
      message: `A reading that is zero or negative${zeroed ? ' once its zero is subtracted' : ''} cannot enter a ratio.${zeroed && indicated > 0 ? ' A decimal place may have slipped in one of the two.' : ''} A warm sensor often has such a zero offset: let it cool, note the indication with the beam blocked in zero_mW, and measure again.`,
      found: zeroed ? `"${typed}" less the zero "${textOf(columns, row, 'zero')}"` : `"${typed}"`,
      expected: 'a reading above zero, or a reason in the column exclude that leaves the run out',
    } as const;
    faults.push(cellFault(columns, row, which.quantity, parts));
  }
  if (net > 0 && net < POWER_MIN_MW && which.exclude === null) {
    faults.push(beyondPower(columns, row, which.quantity));
  }
  return {
    meter: which.meter,
    reading_mW: net,
    peak_mW: peak === null ? null : peak - (zero ?? 0),
    zero_mW: zero,
    indicated_mW: Math.max(indicated, peak ?? indicated),
  };
}

/** Refuses what no handheld meter shows. Below zero a display may stand by a little, never by much. */
export function checkPower(
  columns: Columns,
  row: TableRow,
  quantity: string,
  value_mW: number,
  faults: ErrorParts[],
): void {
  if (Math.abs(value_mW) > POWER_MAX_MW) faults.push(beyondPower(columns, row, quantity));
}

function beyondPower(columns: Columns, row: TableRow, quantity: string): ErrorParts {
  return cellFault(columns, row, quantity, {
    code: 'cell-out-of-range',
    message: 'No handheld meter shows this power.',
    found: `"${textOf(columns, row, quantity)}"`,
    expected: POWER_EXPECTED,
  });
}

/**
 * The reason to leave a run out, in words. A mere `no` or `x` is refused: it would drop a run by
 * mistake, or hide why it was dropped.
 */
export function excludeOf(columns: Columns, row: TableRow, faults: ErrorParts[]): string | null {
  const typed = textOf(columns, row, 'exclude');
  if (typed === '') return null;
  const words = /\p{L}{2}|[^\p{ASCII}\P{L}]/u.test(typed);
  const answer = /^(?:yes|no|ja|nein|true|false|none|null|na|keep|kept)$/i.test(typed);
  if (words && !answer) return typed;
  const parts = {
    code: 'cell-unknown-word',
    message: 'This is not a reason.',
    found: `"${typed}"`,
    expected:
      'an empty cell to keep the run, or why it is left out in words, for example: shutter bumped',
  } as const;
  faults.push(cellFault(columns, row, 'exclude', parts));
  return typed;
}

/** A wavelength in nm; `null` when the cell is empty, or faulty and reported. */
export function wavelengthOf(
  columns: Columns,
  row: TableRow,
  quantity: 'wavelength_nm' | 'setting_nm',
  faults: ErrorParts[],
): number | null {
  const value = numberOf(columns, row, quantity, faults);
  if (value === null || (value >= WAVELENGTH_MIN_NM && value <= WAVELENGTH_MAX_NM)) return value;
  const parts = {
    code: 'cell-out-of-range',
    message: 'No laser for these meters has this wavelength.',
    found: `"${textOf(columns, row, quantity)}"`,
    expected: WAVELENGTH_EXPECTED,
  } as const;
  faults.push(cellFault(columns, row, quantity, parts));
  return null;
}

/** The name in a cell, empty for none. */
export function nameOf(
  columns: Columns,
  row: TableRow,
  quantity: 'series' | 'source' | 'filter',
  faults: ErrorParts[],
): string {
  const name = textOf(columns, row, quantity);
  if (name.length <= LONGEST_NAME) return name;
  const parts = {
    code: 'cell-out-of-range',
    message: `This name has ${name.length} characters.`,
    found: quoted(name),
    expected: `a name of at most ${LONGEST_NAME} characters`,
  } as const;
  faults.push(cellFault(columns, row, quantity, parts));
  return name.slice(0, LONGEST_NAME);
}

/** The time in `started_at`; `null` when the cell is empty, or faulty and reported. */
export function startedOf(columns: Columns, row: TableRow, faults: ErrorParts[]): Moment | null {
  const text = textOf(columns, row, 'started_at');
  if (text === '') return null;
  const number = numberCell(text, { separator: columns.table.separator, marks: columns.marks });
  const started = moment(text, number);
  if (started !== null) return started;
  const parts = {
    code: 'cell-not-a-number',
    message: 'This is no time that can be read in one way only.',
    found: `"${text}"`,
    expected: MOMENT_EXPECTED,
  } as const;
  faults.push(cellFault(columns, row, 'started_at', parts));
  return null;
}
