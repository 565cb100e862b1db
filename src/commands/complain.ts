import { type ErrorCode, MeterpairError } from '../error.js';
import { withoutControls } from '../findings/escape.js';

/** The user's input or command is at fault. */
export const BAD_INPUT = 2;
/** A fault of ours. */
export const OUR_FAULT = 1;

/** Faults that are ours and not the user's. */
const OURS: readonly ErrorCode[] = ['notebook-failed', 'argument-wrong', 'no-convergence'];

/**
 * The fault of the user's study that a notebook came upon, as a command would say it; `null` where it
 * failed for another reason. Cells have a copy of the error's class.
 */
export function inputFaultOf(error: unknown): MeterpairError | null {
  const cause = error instanceof MeterpairError ? error.cause : null;
  if (!(cause instanceof Error && cause.name === 'MeterpairError' && 'code' in cause)) return null;
  const code = cause.code as ErrorCode;
  return OURS.includes(code) ? null : new MeterpairError({ code, message: cause.message });
}

/** What a command that failed says, and its exit code. */
export interface Complaint {
  readonly text: string;
  readonly code: number;
}

/**
 * The one place where an error becomes a message: file, row, column, what was found, what would be
 * right, one line a fault. What came from a file cannot steer the terminal.
 */
export function complain(error: unknown): Complaint {
  const input = error instanceof MeterpairError && !OURS.includes(error.code);
  const said = error instanceof Error ? error.message : String(error);
  const text = said.split('\n').map(withoutControls).join('\n');
  return input
    ? { text: `${text}\n`, code: BAD_INPUT }
    : { text: `The command stopped. ${text}\n`, code: OUR_FAULT };
}
