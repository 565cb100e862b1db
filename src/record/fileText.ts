/** The bytes of a file as text. */
export interface FileText {
  readonly text: string;
  /** Whether an encoding had to be guessed. */
  readonly guessed: boolean;
}

/**
 * Decodes UTF-8, or UTF-16 with a byte-order mark. Bytes that are neither are taken for
 * Windows-1252, which older spreadsheets write: digits, separators and plain letters are the same
 * there, only accented letters in names may come out wrong (`guessed`).
 */
export function fileText(bytes: Uint8Array): FileText {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return decoded('utf-16le', bytes);
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return decoded('utf-16be', bytes);
  try {
    return decoded('utf-8', bytes);
  } catch {
    return { text: new TextDecoder('windows-1252').decode(bytes), guessed: true };
  }
}

function decoded(encoding: string, bytes: Uint8Array): FileText {
  return { text: new TextDecoder(encoding, { fatal: true }).decode(bytes), guessed: false };
}
