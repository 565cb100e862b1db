/** traces.csv of the plain kind, as loggers write it, read without a text for every cell. */
import type { Separator } from './numberCell.js';
import { POWER_MAX_MW } from './studySchema.js';

/** Where the readings of a row belong by its cells; asked when those without readings change. */
export type OwnerOfCells<T> = (cells: readonly string[], row: number) => T | null;

export interface PlainColumns {
  readonly count: number;
  readonly elapsed: number;
  readonly reading: number;
  /** Places by which the decimal point of a reading moves on the way to mW. */
  readonly shift: number;
}

interface Growing {
  readonly elapsed_s: number[];
  readonly reading_mW: number[];
}

const [NINE, ZERO, MINUS, POINT, LINE_FEED] = [57, 48, 45, 46, 10];
/** Numbers of so many digits are whole in a double, and so are powers of ten up to the 22nd. */
const MOST_DIGITS = 15;
/** Whatever is larger has a fault to be named, or is rare. */
const MOST = POWER_MAX_MW;
const POWERS = Float64Array.from({ length: 23 }, (_, power) => Number(`1e${power}`));

/**
 * Goes through the lines below the heading and hands the numbers to their owners. Whatever is not plain
 * (spaces, signs other than a minus, exponents, blank or short lines, a time that runs backwards) ends it
 * with `false`, and the file is read cell by cell instead, which says what is wrong.
 *
 * @param body the lines below the heading, each ended by LF, without quotation marks
 */
export function plainTraces<T extends Growing>(
  body: string,
  separator: Separator,
  { count, elapsed, reading, shift }: PlainColumns,
  ownerOf: OwnerOfCells<T>,
): boolean {
  const mark = separator.charCodeAt(0);
  let owner: T | null = null;
  let known: string[] = [];
  const scanned = new Float64Array(1);
  let row = 1;
  let at = 0;
  while (at < body.length) {
    row++;
    let time = Number.NaN;
    let power = Number.NaN;
    let same = owner !== null;
    const begin = at;
    for (let column = 0; column < count; column++) {
      const last = column === count - 1;
      if (column === elapsed || column === reading) {
        at = numberEnd(body, at, column === reading ? shift : 0, scanned);
        if (at < 0) return false;
        if (column === elapsed) time = scanned[0]!;
        else power = scanned[0]!;
      } else {
        const cell = known[column] ?? '';
        if (same && body.startsWith(cell, at) && isEnd(body.charCodeAt(at + cell.length), mark)) {
          at += cell.length;
        } else {
          same = false;
          while (at < body.length && !isEnd(body.charCodeAt(at), mark)) at++;
        }
      }
      if (body.charCodeAt(at) !== (last ? LINE_FEED : mark)) return false;
      at++;
    }
    if (!same || owner === null) {
      known = body.slice(begin, at - 1).split(separator);
      owner = ownerOf(known, row);
      if (owner === null) return false;
    }
    const { elapsed_s, reading_mW } = owner;
    if (elapsed_s.length > 0 && time < elapsed_s[elapsed_s.length - 1]!) return false;
    elapsed_s.push(time);
    reading_mW.push(power);
  }
  return true;
}

const isEnd = (code: number, mark: number): boolean => code === mark || code === LINE_FEED;

/** Where the number that begins at a place ends, its value in `scanned`; −1 for one that is not plain. */
function numberEnd(text: string, from: number, shift: number, scanned: Float64Array): number {
  let at = from;
  const negative = text.charCodeAt(at) === MINUS;
  if (negative) at++;
  let whole = 0;
  let digits = 0;
  let decimals = -1;
  for (; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (code >= ZERO && code <= NINE) {
      whole = 10 * whole + (code - ZERO);
      digits++;
      if (decimals >= 0) decimals++;
    } else if (code === POINT && decimals < 0 && digits > 0) decimals = 0;
    else break;
  }
  if (digits === 0 || digits > MOST_DIGITS) return -1;
  // One operation on two whole doubles is rounded once, as the text of the number would be.
  const power = shift - Math.max(0, decimals);
  const size = power < 0 ? whole / POWERS[-power]! : whole * POWERS[power]!;
  if (size > MOST || (size !== 0 && size < 1e-15)) return -1;
  scanned[0] = negative ? -size : size;
  return at;
}
