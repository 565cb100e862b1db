/** The cells of one row of runs.csv, each with its own check. */
import type { ErrorParts } from '../error.js';
import type { MeterRole } from '../vocabulary.js';
import { type CheckedRow, headingOf, numberOf, refuse, requiredNumberOf, textOf } from './cells.js';
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

/**
 * One reading with its peak and zero; `null` when it has no number. A peak below its reading goes to
 * `doubts`: it is a fault unless the runs around it show that one of both is a slip of the pen.
 */
export function readingOf(
  at: CheckedRow,
  which: { readonly meter: MeterRole; readonly quantity: string; readonly exclude: string | null },
  doubts: ErrorParts[],
): EntryReading | null {
  const indicated = requiredNumberOf(at, which.quantity);
  const peak = numberOf(at, 'peak');
  const zero = numberOf(at, 'zero');
  if (indicated === null) return null;
  const heading = headingOf(at, which.quantity);
  const typed = textOf(at, which.quantity);
  if (peak !== null && peak < indicated) {
    refuse({ ...at, faults: doubts }, 'peak', {
      code: 'row-inconsistent',
      message:
        'The peak is lower than the settled reading of the same run, but it is the highest reading seen in it.',
      found: `peak "${textOf(at, 'peak')}" and ${heading} "${typed}"`,
      expected: 'a peak not below the settled reading, or an empty cell if none was noted',
    });
  }
  for (const [quantity, value] of [
    [which.quantity, indicated],
    ['peak', peak],
    ['zero', zero],
  ] as const) {
    if (value !== null) checkPower(at, quantity, value);
  }
  const net = indicated - (zero ?? 0);
  if (net <= 0 && which.exclude === null) {
    const zeroed = zero !== null && zero !== 0;
    refuse(at, which.quantity, {
      code: 'cell-out-of-range',
      message: `A reading that is zero or negative${zeroed ? ' once its zero is subtracted' : ''} cannot enter a ratio.${zeroed && indicated > 0 ? ' A decimal place may have slipped in one of the two.' : ''} A warm sensor often has such a zero offset: let it cool, note the indication with the beam blocked in zero_mW, and measure again.`,
      found: zeroed ? `"${typed}" less the zero "${textOf(at, 'zero')}"` : `"${typed}"`,
      expected: 'a reading above zero, or a reason in the column exclude that leaves the run out',
    });
  }
  if (net > 0 && net < POWER_MIN_MW && which.exclude === null) refuseBeyond(at, which.quantity);
  return {
    meter: which.meter,
    reading_mW: net,
    peak_mW: peak === null ? null : peak - (zero ?? 0),
    zero_mW: zero,
    indicated_mW: Math.max(indicated, peak ?? indicated),
  };
}

/** Refuses what no handheld meter shows. Below zero a display may stand by a little, never by much. */
export function checkPower(at: CheckedRow, quantity: string, value_mW: number): void {
  if (Math.abs(value_mW) > POWER_MAX_MW) refuseBeyond(at, quantity);
}

function refuseBeyond(at: CheckedRow, quantity: string): void {
  refuse(at, quantity, {
    code: 'cell-out-of-range',
    message: 'No handheld meter shows this power.',
    found: `"${textOf(at, quantity)}"`,
    expected: POWER_EXPECTED,
  });
}

/**
 * The reason to leave a run out, in words. A mere `no` or `x` is refused: it would drop a run by
 * mistake, or hide why it was dropped.
 */
export function excludeOf(at: CheckedRow): string | null {
  const typed = textOf(at, 'exclude');
  if (typed === '') return null;
  const words = /\p{L}{2}|[^\p{ASCII}\P{L}]/u.test(typed);
  const answer = /^(?:yes|no|ja|nein|true|false|none|null|na|keep|kept)$/i.test(typed);
  if (words && !answer) return typed;
  refuse(at, 'exclude', {
    code: 'cell-unknown-word',
    message: 'This is not a reason.',
    found: `"${typed}"`,
    expected:
      'an empty cell to keep the run, or why it is left out in words, for example: shutter bumped',
  });
  return typed;
}

/** A wavelength in nm; `null` when the cell is empty, or faulty and reported. */
export function wavelengthOf(
  at: CheckedRow,
  quantity: 'wavelength_nm' | 'setting_nm',
): number | null {
  const value = numberOf(at, quantity);
  if (value === null || (value >= WAVELENGTH_MIN_NM && value <= WAVELENGTH_MAX_NM)) return value;
  return refuse(at, quantity, {
    code: 'cell-out-of-range',
    message: 'No laser for these meters has this wavelength.',
    found: `"${textOf(at, quantity)}"`,
    expected: WAVELENGTH_EXPECTED,
  });
}

/** The name in a cell, empty for none. */
export function nameOf(at: CheckedRow, quantity: 'series' | 'source' | 'filter'): string {
  const name = textOf(at, quantity);
  if (name.length <= LONGEST_NAME) return name;
  refuse(at, quantity, {
    code: 'cell-out-of-range',
    message: `This name has ${name.length} characters.`,
    found: quoted(name),
    expected: `a name of at most ${LONGEST_NAME} characters`,
  });
  return name.slice(0, LONGEST_NAME);
}

/** The time in `started_at`; `null` when the cell is empty, or faulty and reported. */
export function startedOf(at: CheckedRow): Moment | null {
  const { columns } = at;
  const text = textOf(at, 'started_at');
  if (text === '') return null;
  const number = numberCell(text, { separator: columns.table.separator, marks: columns.marks });
  const started = moment(text, number);
  if (started !== null) return started;
  return refuse(at, 'started_at', {
    code: 'cell-not-a-number',
    message: 'This is no time that can be read in one way only.',
    found: `"${text}"`,
    expected: MOMENT_EXPECTED,
  });
}
