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
  /** Characters that make a file a case for reading it cell by cell. */
  readonly strange: readonly string[];
}

/** The readings of a trace while it is read. */
export interface GrowingTrace {
  elapsed_s: number[];
  reading_mW: number[];
}

/** What a trace holds so far, in parts: a list that grows to a million is copied again and again. */
interface Parts {
  readonly elapsed_s: number[][];
  readonly reading_mW: number[][];
}
const PART = 4096;

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
 * @param body the lines below the heading in pieces of whole lines, each ended by LF
 */
export function plainTraces<T extends GrowingTrace>(
  body: Iterable<string>,
  separator: Separator,
  columns: PlainColumns,
  ownerOf: OwnerOfCells<T>,
): boolean {
  const found = new Map<T, Parts>();
  let row = 1;
  for (const piece of body) {
    if (columns.strange.some((mark) => piece.includes(mark))) return false;
    // The last line may end with the file; here it does not, so that every loop ends at a line feed.
    const bytes = Buffer.from(piece.endsWith('\n') ? piece : `${piece}\n`, 'utf8');
    const lines = plainLines(bytes, separator, columns, (cells, line) => {
      const owner = ownerOf(cells, row + line);
      if (owner === null) return null;
      const parts = found.get(owner) ?? { elapsed_s: [], reading_mW: [] };
      found.set(owner, parts);
      return parts;
    });
    if (lines === null) return false;
    row += lines;
  }
  for (const [owner, { elapsed_s, reading_mW }] of found) {
    const nothing: number[] = [];
    owner.elapsed_s = nothing.concat(...elapsed_s);
    owner.reading_mW = nothing.concat(...reading_mW);
  }
  return true;
}

/** How many lines a piece holds, or `null` for what is not plain. */
function plainLines(
  bytes: Buffer,
  separator: Separator,
  { count, elapsed, reading, shift }: PlainColumns,
  partsOf: OwnerOfCells<Parts>,
): number | null {
  const mark = separator.charCodeAt(0);
  let parts: Parts | null = null;
  let times: number[] = [];
  let powers: number[] = [];
  let latest = Number.NEGATIVE_INFINITY;
  // Where each cell of the line that told the owner begins, and how long it is.
  const known = new Int32Array(count);
  const sizes = new Int32Array(count);
  const scanned = new Float64Array(1);
  let row = 0;
  let at = 0;
  while (at < bytes.length) {
    row++;
    let time = Number.NaN;
    let power = Number.NaN;
    let same = parts !== null;
    const line = at;
    for (let column = 0; column < count; column++) {
      if (column === elapsed || column === reading) {
        at = numberEnd(bytes, at, column === reading ? shift : 0, scanned);
        if (at < 0) return null;
        if (column === elapsed) time = scanned[0]!;
        else power = scanned[0]!;
      } else if (same && isSame(bytes, known[column]!, at, sizes[column]!, mark)) {
        at += sizes[column]!;
      } else {
        same = false;
        at = cellEnd(bytes, at, mark);
      }
      if (bytes[at] !== (column === count - 1 ? LINE_FEED : mark)) return null;
      at++;
    }
    if (!same || parts === null) {
      const cells = bytes.toString('utf8', line, at - 1).split(separator);
      for (let column = 0, from = line; column < count; column++) {
        const end = cellEnd(bytes, from, mark);
        known[column] = from;
        sizes[column] = end - from;
        from = end + 1;
      }
      parts = partsOf(cells, row);
      if (parts === null) return null;
      latest = parts.elapsed_s.at(-1)?.at(-1) ?? Number.NEGATIVE_INFINITY;
      [times, powers] = openPart(parts);
    } else if (times.length >= PART) [times, powers] = openPart(parts);
    if (time < latest) return null;
    latest = time;
    times.push(time);
    powers.push(power);
  }
  return row;
}

/** The last part where there is room, else a new one. */
function openPart({ elapsed_s, reading_mW }: Parts): readonly [number[], number[]] {
  if ((elapsed_s.at(-1)?.length ?? PART) >= PART) {
    elapsed_s.push([]);
    reading_mW.push([]);
  }
  return [elapsed_s.at(-1)!, reading_mW.at(-1)!];
}

const isEnd = (code: number, mark: number): boolean => code === mark || code === LINE_FEED;

function cellEnd(bytes: Buffer, from: number, mark: number): number {
  let at = from;
  while (!isEnd(bytes[at]!, mark)) at++;
  return at;
}

/** Whether the cell that begins at `from` is the one of this size at `known`. */
function isSame(bytes: Buffer, known: number, from: number, size: number, mark: number): boolean {
  for (let i = 0; i < size; i++) if (bytes[known + i] !== bytes[from + i]) return false;
  return isEnd(bytes[from + size]!, mark);
}

/** Where the number that begins at a place ends, its value in `scanned`; −1 for one that is not plain. */
function numberEnd(bytes: Buffer, from: number, shift: number, scanned: Float64Array): number {
  let at = from;
  const negative = bytes[at] === MINUS;
  if (negative) at++;
  let whole = 0;
  let digits = 0;
  let decimals = -1;
  for (; ; at++) {
    const code = bytes[at]!;
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
