/** JSON in which no number can be NaN or infinite and nothing can get lost on the way. */
import { MeterpairError } from '../error.js';

/**
 * Stable JSON: keys in the order the record was built, two spaces, a newline at the end, numbers with at
 * most 12 significant digits: the last ones of a double differ between versions of Node.js.
 *
 * @param value plain data
 * @param name what the value is called, the start of the path in an error
 * @throws argument-wrong that names the path of a number that is not finite, or of a value that
 *   JSON would drop or change in silence
 */
export function finiteJson(value: unknown, name: string): string {
  refuseLosses(value, name);
  return `${JSON.stringify(value, twelveDigits, 2)}\n`;
}

const twelveDigits = (_: string, value: unknown): unknown =>
  typeof value === 'number' ? Number(value.toPrecision(12)) : value;

function refuseLosses(value: unknown, path: string): void {
  if (value === null || typeof value === 'string' || typeof value === 'boolean') return;
  if (typeof value === 'number') {
    if (Number.isFinite(value)) return;
    throw loss(`${path} is not a finite number, so it cannot be written.`, String(value));
  }
  if (Array.isArray(value)) {
    for (let i = 0; i < value.length; i++) refuseLosses(value[i], `${path}[${i}]`);
    return;
  }
  if (typeof value === 'object' && isPlain(value)) {
    for (const [key, inner] of Object.entries(value)) {
      // An optional field that is not there is written as not there; anything else is a loss.
      if (inner !== undefined) refuseLosses(inner, `${path}.${key}`);
    }
    return;
  }
  throw loss(
    `${path} is not plain data, so it cannot be written.`,
    value === undefined ? 'undefined' : typeof value,
  );
}

function isPlain(value: object): boolean {
  const prototype: unknown = Object.getPrototypeOf(value);
  return prototype === Object.prototype || prototype === null;
}

function loss(message: string, found: string): MeterpairError {
  return new MeterpairError({
    code: 'argument-wrong',
    message,
    found,
    expected: 'a finite number, a text, true, false, null, a list or a record of these',
  });
}
