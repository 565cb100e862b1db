/** Collecting faults, so that one look at the message mends them all. */
import { type ErrorParts, MeterpairError } from '../error.js';

/** Faults named in one message; the rest are counted. */
export const SHOWN = 10;
const MOST_WORDS = 8;

/**
 * Throws the collected faults as one error, the first in front and the rest in `others`; returns
 * if there are none. Beyond ten, the last of `others` says how many are not shown.
 */
export function throwFaults(faults: readonly ErrorParts[]): void {
  const [first, ...rest] = faults;
  if (first === undefined) return;
  const others = rest.slice(0, SHOWN - 1);
  const hidden = rest.slice(SHOWN - 1);
  const next = hidden[0];
  if (next !== undefined) {
    others.push({
      code: next.code,
      message: `${hidden.length} more ${hidden.length === 1 ? 'fault is' : 'faults are'} not shown; mend these first.`,
    });
  }
  throw new MeterpairError({ ...first, others });
}

/** What is dear to say, for a fault that will be shown; nothing for one that is only counted. */
export function whileShown(faults: readonly unknown[], make: () => string): string {
  return faults.length < SHOWN ? make() : '';
}

/** A value as a message quotes it: JSON, cut short. */
export function quoted(value: unknown): string {
  if (value === undefined) return 'nothing';
  const text = typeof value === 'bigint' ? `${value}` : shown(value);
  return text.length > 80 ? `${text.slice(0, 77)}…` : text;
}

function shown(value: unknown): string {
  if (typeof value === 'number') return String(value);
  if (typeof value === 'function' || typeof value === 'symbol') return `a ${typeof value}`;
  try {
    return JSON.stringify(value) ?? typeof value;
  } catch {
    return `a ${typeof value}`;
  }
}

/** Words as a list: `a, b or c`, at most eight of them. */
export function either(words: readonly string[]): string {
  if (words.length < 2) return words.join('');
  if (words.length > MOST_WORDS) {
    return `${words.slice(0, MOST_WORDS).join(', ')} or one of ${words.length - MOST_WORDS} more`;
  }
  return `${words.slice(0, -1).join(', ')} or ${words.at(-1)}`;
}
