/** What the compiler holds for those who write TypeScript, held for those who do not. */
import { argumentWrong } from '../error.js';

const isList = (value: unknown): value is readonly unknown[] =>
  Array.isArray(value) || ArrayBuffer.isView(value);

export const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' &&
  value !== null &&
  !Array.isArray(value) &&
  !(value instanceof Promise);

/** Refuses what is no list. @throws argument-wrong. */
export function requireList(values: unknown, what: string): void {
  if (!isList(values)) throw argumentWrong(`${what} must be a list.`, shown(values), 'an array');
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

/** Refuses lists of unequal length. @throws argument-wrong. */
export function requireAsMany(a: readonly unknown[], b: readonly unknown[], message: string): void {
  if (a.length !== b.length) throw argumentWrong(message, `${a.length} and ${b.length}`);
}

/** Refuses what is no record with these fields. @throws argument-wrong. */
export function requireRecord(value: unknown, what: string, fields: readonly string[]): void {
  const missing = isRecord(value) ? fields.filter((field) => !(field in value)) : fields;
  if (!isRecord(value) || missing.length > 0) {
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
  confidence: [
    'a confidence level between 0 and 1, such as 0.95',
    (value) => finite(value) && value > 0 && value < 1,
  ],
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
  const wrong = misfit(value, shape);
  if (wrong === null) return;
  throw argumentWrong(
    `${what}${wrong.place} must be ${wrong.right}.`,
    shown(wrong.value),
    wrong.expected,
  );
}

interface Misfit {
  /** Where in the value, in words made on the way out of what does not fit. */
  readonly place: string;
  readonly right: string;
  readonly value: unknown;
  readonly expected?: string;
}

function misfit(value: unknown, shape: Shape): Misfit | null {
  if (typeof shape === 'string') {
    const [right, test] = KINDS[shape];
    return test(value) ? null : { place: '', right, value };
  }
  if ('maybe' in shape) return value === undefined ? null : misfit(value, shape.maybe);
  if ('orNull' in shape) return value === null ? null : misfit(value, shape.orNull);
  if ('list' in shape) {
    if (!isList(value)) return { place: '', right: 'a list', value, expected: 'an array' };
    for (let i = 0; i < value.length; i++) {
      const wrong = misfit(value[i], shape.list);
      if (wrong !== null) return { ...wrong, place: ` (${i + 1})${wrong.place}` };
    }
    return null;
  }
  if ('fields' in shape) {
    if (!isRecord(value)) return { place: '', right: 'a record', value };
    for (const name in shape.fields) {
      const wrong = misfit(value[name], shape.fields[name]);
      if (wrong !== null) return { ...wrong, place: ` (${name})${wrong.place}` };
    }
    return null;
  }
  return typeof value === 'string' && shape.includes(value)
    ? null
    : { place: '', right: 'one of these words', value, expected: shape.join(', ') };
}

/** A text in quotation marks, so that "42" is not taken for the number. */
export function shown(value: unknown): string {
  if (typeof value === 'string') return `the text "${value.slice(0, 60)}"`;
  if (value instanceof Promise) return 'a promise (is an await missing?)';
  if (typeof value === 'function') return 'a function';
  if (Array.isArray(value)) return `a list of ${value.length}`;
  return typeof value === 'object' && value !== null ? 'another record' : String(value);
}
