/** The bytes of a file as text. */
import { isAscii } from 'node:buffer';
import { MeterpairError } from '../error.js';

export interface FileText {
  readonly text: string;
  /** Whether an encoding had to be guessed. */
  readonly guessed: boolean;
}

/**
 * Decodes UTF-8, or UTF-16 with a byte-order mark. Bytes that are neither are taken for
 * Windows-1252, which older spreadsheets write: digits, separators and plain letters are the same
 * there, only accented letters in names may come out wrong (`guessed`).
 *
 * @throws file-unreadable for UTF-16 that breaks off or holds what is none
 */
export function fileText(bytes: Uint8Array, file: string): FileText {
  // Long files of a logger: nothing to decode.
  if (isAscii(bytes)) {
    const { buffer, byteOffset, byteLength } = bytes;
    return {
      // The same text as 'ascii', which is fifty times as slow: it looks at every byte once more.
      text: Buffer.from(buffer, byteOffset, byteLength).toString('latin1'),
      guessed: false,
    };
  }
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return utf16('utf-16le', bytes, file);
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return utf16('utf-16be', bytes, file);
  try {
    return decoded('utf-8', bytes);
  } catch {
    return { text: new TextDecoder('windows-1252').decode(bytes), guessed: true };
  }
}

function decoded(encoding: string, bytes: Uint8Array): FileText {
  return { text: new TextDecoder(encoding, { fatal: true }).decode(bytes), guessed: false };
}

function utf16(encoding: string, bytes: Uint8Array, file: string): FileText {
  try {
    return decoded(encoding, bytes);
  } catch {
    throw new MeterpairError({
      code: 'file-unreadable',
      file,
      message:
        'The file says that it is UTF-16, and its bytes are not: it may have been copied in part.',
      found: `${bytes.length} bytes`,
      expected: `the file saved once more, best as ${/\.json$/i.test(file) ? 'UTF-8' : '"CSV UTF-8"'}`,
    });
  }
}
