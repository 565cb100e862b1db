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
  for (let i = 0; i < values.length; i++) {
    if (typeof values[i] !== 'number') {
      throw argumentWrong(`${what} must be a list of numbers.`, shown(values[i]));
    }
  }
}

/** Refuses what is no record with these fields. @throws argument-wrong. */
export function requireRecord(value: unknown, what: string, fields: readonly string[]): void {
  const none =
    typeof value !== 'object' || value === null || Array.isArray(value) || value instanceof Promise;
  const missing = none ? fields : fields.filter((field) => !(field in value));
  if (none || missing.length > 0) {
    throw argumentWrong(
      `${what} must be a record${fields.length > 0 ? ` with ${fields.join(', ')}` : ''}.`,
      missing.length < fields.length ? `no ${missing.join(', ')}` : shown(value),
    );
  }
}

/** What a value has to be: a kind, one of several words, or lists and records of such. */
export type Shape =
  | keyof typeof KINDS
  | readonly string[]
  | { readonly list: Shape }
  | { readonly fields: Readonly<Record<string, Shape>> }
  /** May be left out. */
  | { readonly maybe: Shape }
  | { readonly orNull: Shape };

const finite = (value: unknown): value is number => Number.isFinite(value);

const KINDS = {
  number: ['a finite number', finite],
  'any-number': ['a number', (value) => typeof value === 'number' && !Number.isNaN(value)],
  'not-negative': ['a finite number of 0 or above', (value) => finite(value) && value >= 0],
  'above-zero': ['a finite number above 0', (value) => finite(value) && value > 0],
  fraction: ['a fraction between 0 and 1', (value) => finite(value) && value > 0 && value < 1],
  text: ['a text', (value) => typeof value === 'string'],
  'yes-or-no': ['true or false', (value) => typeof value === 'boolean'],
  function: ['a function', (value) => typeof value === 'function'],
} as const satisfies Record<string, readonly [string, (value: unknown) => boolean]>;

/**
 * Refuses what has not this shape, and says in which place. Fields that the shape does not name may
 * be there: `requireOptions` refuses those of options.
 *
 * @throws argument-wrong
 */
export function requireShape(value: unknown, what: string, shape: Shape): void {
  if (typeof shape === 'string') {
    const [right, test] = KINDS[shape];
    if (!test(value)) throw argumentWrong(`${what} must be ${right}.`, shown(value));
    return;
  }
  if ('maybe' in shape) {
    if (value !== undefined) requireShape(value, what, shape.maybe);
  } else if ('orNull' in shape) {
    if (value !== null) requireShape(value, what, shape.orNull);
  } else if ('list' in shape) {
    requireList(value, what);
    const list = value as readonly unknown[];
    for (let i = 0; i < list.length; i++) requireShape(list[i], `${what} (${i + 1})`, shape.list);
  } else if ('fields' in shape) {
    requireRecord(value, what, []);
    for (const [name, one] of Object.entries(shape.fields)) {
      requireShape((value as Readonly<Record<string, unknown>>)[name], `${what} (${name})`, one);
    }
  } else if (!(typeof value === 'string' && shape.includes(value))) {
    throw argumentWrong(`${what} must be one of these words.`, shown(value), shape.join(', '));
  }
}

/** A text in quotation marks, so that "42" is not taken for the number. */
export function shown(value: unknown): string {
  if (typeof value === 'string') return `the text "${value.slice(0, 60)}"`;
  if (value instanceof Promise) return 'a promise (is an await missing?)';
  if (typeof value === 'function') return 'a function';
  if (Array.isArray(value)) return `a list of ${value.length}`;
  return typeof value === 'object' && value !== null ? 'another record' : String(value);
}
