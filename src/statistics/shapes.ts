/** What the compiler holds for those who write TypeScript, held for those who do not. */
import { argumentWrong } from '../error.js';

/** Refuses what is no list. @throws argument-wrong. */
export function requireList(values: unknown, what: string): void {
  if (!Array.isArray(values) && !ArrayBuffer.isView(values)) {
    throw argumentWrong(`${what} must be a list.`, shown(values), 'an array');
  }
}

/** Refuses what is no list of numbers; texts such as "42" are none. @throws argument-wrong. */
export function requireNumbers(values: readonly unknown[], what: string): void {
  requireList(values, what);
  for (const value of values) {
    if (typeof value !== 'number') {
      throw argumentWrong(`${what} must be a list of numbers.`, shown(value));
    }
  }
}

/** Refuses what is no record with these fields. @throws argument-wrong. */
export function requireRecord(value: unknown, what: string, fields: readonly string[]): void {
  const missing =
    typeof value !== 'object' || value === null || Array.isArray(value)
      ? fields
      : fields.filter((field) => !(field in value));
  if (missing.length > 0) {
    throw argumentWrong(
      `${what} must be a record with ${fields.join(', ')}.`,
      missing.length < fields.length ? `no ${missing.join(', ')}` : shown(value),
    );
  }
}

/** A text in quotation marks, so that "42" is not taken for the number. */
function shown(value: unknown): string {
  if (typeof value === 'string') return `the text "${value.slice(0, 60)}"`;
  if (value instanceof Promise) return 'a promise (is an await missing?)';
  if (typeof value === 'function') return 'a function';
  if (Array.isArray(value)) return `a list of ${value.length}`;
  return typeof value === 'object' && value !== null ? 'another record' : String(value);
}
