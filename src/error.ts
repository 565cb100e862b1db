/** The one error of the package: what went wrong, where, what was found and what would be right. */

export type ErrorCode =
  | 'file-missing'
  | 'file-unreadable'
  | 'file-unwritable'
  | 'study-json-invalid'
  | 'study-field-wrong'
  | 'csv-invalid'
  | 'column-missing'
  | 'column-unknown'
  | 'column-twice'
  | 'cell-missing'
  | 'cell-not-a-number'
  | 'cell-out-of-range'
  | 'cell-unknown-word'
  | 'row-inconsistent'
  | 'no-rows'
  | 'opinions-invalid'
  | 'factors-invalid'
  | 'wavelength-out-of-range'
  | 'power-out-of-range'
  | 'reading-not-positive'
  | 'argument-wrong'
  | 'too-few-values'
  | 'no-convergence'
  | 'notebook-failed'
  | 'command-line';

/** The parts a message is assembled from. */
export interface ErrorParts {
  readonly code: ErrorCode;
  /** What is wrong, as one sentence without its place. */
  readonly message: string;
  readonly file?: string;
  /** Row as the spreadsheet shows it; the header is row 1. */
  readonly row?: number;
  readonly column?: string;
  readonly found?: string;
  /** What would be right. */
  readonly expected?: string;
  /** Further faults found in the same input. */
  readonly others?: readonly ErrorParts[];
}

/** Thrown by every function of the package; `code` says what, the rest says where and what would be right. */
export class MeterpairError extends Error {
  readonly code: ErrorCode;
  readonly file: string | undefined;
  readonly row: number | undefined;
  readonly column: string | undefined;
  readonly found: string | undefined;
  readonly expected: string | undefined;
  readonly others: readonly ErrorParts[];

  constructor(parts: ErrorParts) {
    super(sentence(parts));
    this.name = 'MeterpairError';
    this.code = parts.code;
    this.file = parts.file;
    this.row = parts.row;
    this.column = parts.column;
    this.found = parts.found;
    this.expected = parts.expected;
    this.others = parts.others ?? [];
  }
}

/** One readable line per fault: place, what is wrong, what was found, what would be right. */
export function sentence(parts: ErrorParts): string {
  const place = [
    parts.file,
    parts.row === undefined ? undefined : `row ${parts.row}`,
    parts.column === undefined ? undefined : `column ${parts.column}`,
  ].filter((part) => part !== undefined);
  const head = place.length > 0 ? `${place.join(', ')}: ` : '';
  const found = parts.found === undefined ? '' : ` Found: ${parts.found}.`;
  const expected = parts.expected === undefined ? '' : ` Right would be: ${parts.expected}.`;
  const others = (parts.others ?? []).map((other) => `\n${sentence(other)}`).join('');
  return `${head}${parts.message}${found}${expected}${others}`;
}

/** The error of one fault that has no place in a file. */
export function failure(
  code: ErrorCode,
  message: string,
  found?: unknown,
  expected?: string,
): MeterpairError {
  return new MeterpairError({
    code,
    message,
    ...(found === undefined ? {} : { found: String(found) }),
    ...(expected === undefined ? {} : { expected }),
  });
}

/** `argument-wrong`: a programmer's mistake has the same type as the user's. */
export const argumentWrong = (message: string, found?: unknown, expected?: string) =>
  failure('argument-wrong', message, found, expected);

/**
 * What `make` returns, or `null` where the values are too few for it (`too-few-values`). Every other
 * error goes on: a mistake must not pass for data that cannot tell.
 */
export function nullIfTooFew<T>(make: () => T): T | null {
  try {
    return make();
  } catch (error) {
    if (error instanceof MeterpairError && error.code === 'too-few-values') return null;
    throw error;
  }
}
