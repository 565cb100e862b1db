/** A table as pieces of text, so that a long recording never is one text in memory. */
import { isUtf8 } from 'node:buffer';
import { closeSync, openSync, readFileSync, readSync, type Stats, statSync } from 'node:fs';
import { MeterpairError } from '../error.js';
import { fileText } from './fileText.js';
import { requireRegular, unreadable } from './regularFile.js';
import { normalLines } from './table.js';

export interface TableText {
  /** The text anew from its beginning, in pieces of whole lines, each but the last ended by LF. */
  readonly pieces: () => Iterable<string>;
  /** All of it, as it was given. */
  readonly whole: () => string;
}

/** So much at once: what fits into the nearest memory of a processor. */
const SIZE = 65_536;
const LINE_FEED = 10;

/** A table that is there as text. */
export function tableText(text: string): TableText {
  return { pieces: () => linePieces(normalLines(text)), whole: () => text };
}

/**
 * A table in a file, which is read piece by piece each time it is asked for. One that is not UTF-8 is
 * read at once; `guessed` as `fileText` has it.
 *
 * @throws file-missing; file-unreadable, also later, when the file has changed since
 */
export async function tableFile(
  path: string,
  name: string,
): Promise<TableText & { readonly guessed: boolean }> {
  await requireRegular(path, name);
  try {
    const known = statSync(path);
    const pieces = () => filePieces(path, name, known);
    const whole = () => fileText(readFileSync(path), name);
    if (every(pieces(), isUtf8)) {
      return { pieces: () => decoded(pieces()), whole: () => whole().text, guessed: false };
    }
    const { text, guessed } = whole();
    return { ...tableText(text), guessed };
  } catch (error) {
    throw error instanceof MeterpairError ? error : unreadable(name, error);
  }
}

function every(pieces: Iterable<Buffer>, has: (piece: Buffer) => boolean): boolean {
  for (const piece of pieces) if (!has(piece)) return false;
  return true;
}

function* decoded(pieces: Iterable<Buffer>): Generator<string> {
  let first = true;
  for (const piece of pieces) {
    const text = piece.toString('utf8');
    // Only at the very beginning is it a mark of the byte order.
    const begin = !first && text.startsWith('\uFEFF') ? '\uFEFF' : '';
    yield begin + normalLines(text);
    first = false;
  }
}

/** Pieces of a text of lines ended by LF. */
export function* linePieces(text: string): Generator<string> {
  for (let at = 0; at < text.length; ) {
    const feed = text.indexOf('\n', at + SIZE);
    const end = feed < 0 ? text.length : feed + 1;
    yield text.slice(at, end);
    at = end;
  }
}

/** Pieces of whole lines of a file; each holds until the next is asked for. */
function* filePieces(path: string, name: string, known: Stats): Generator<Buffer> {
  const now = statSync(path);
  if (now.size !== known.size || now.mtimeMs !== known.mtimeMs) {
    throw new MeterpairError({
      code: 'file-unreadable',
      file: name,
      message: 'The file changed while it was read.',
      expected: 'a file that nothing writes to meanwhile',
    });
  }
  const file = openSync(path, 'r');
  try {
    let buffer = Buffer.allocUnsafe(2 * SIZE);
    let kept = 0;
    for (;;) {
      const read = readSync(file, buffer, kept, buffer.length - kept, null);
      const end = kept + read;
      const feed = buffer.subarray(0, end).lastIndexOf(LINE_FEED);
      if (read === 0) {
        if (end > 0) yield buffer.subarray(0, end);
        return;
      }
      if (feed >= 0) {
        yield buffer.subarray(0, feed + 1);
        buffer.copyWithin(0, feed + 1, end);
      }
      kept = end - feed - 1;
      // A line longer than the buffer.
      if (kept === buffer.length) buffer = Buffer.concat([buffer, Buffer.allocUnsafe(kept)]);
    }
  } finally {
    closeSync(file);
  }
}
