/** What a failed check of a JSON value says to its author. */
import { z } from 'zod';
import type { ErrorCode, ErrorParts } from '../error.js';
import { didYouMean, suggestion } from '../statistics/didYouMean.js';
import type { Warning } from '../vocabulary.js';
import { quoted } from './faults.js';

type Path = readonly PropertyKey[];

/** Every issue of a zod check as a fault: the field in words, what was found, what would be right. */
export function shapeFaults(
  issues: readonly z.core.$ZodIssue[],
  schema: z.ZodType,
  input: unknown,
  place: { readonly code: ErrorCode; readonly file: string },
): ErrorParts[] {
  // One fault a field: a union reports every branch, a number several bounds.
  const seen = new Set<string>();
  return issues.flatMap((issue) => {
    const field = fieldName(issue.path);
    if (seen.has(field)) return [];
    seen.add(field);
    const value = valueAt(input, issue.path);
    const missing = value === undefined;
    const message =
      field === ''
        ? 'The content is not of the right kind.'
        : `"${field}" ${missing ? 'is missing.' : 'is not right.'}`;
    const hint =
      missing && issue.path.length > 0
        ? lookAlike(schema, input, issue.path)
        : textInsteadOfNumber(value, issue.message);
    return [
      {
        ...place,
        message: `${message}${hint}`,
        ...(missing ? {} : { found: quoted(value) }),
        expected: issue.message,
      },
    ];
  });
}

/** A warning for every field that the schema does not know. */
export function unknownFields(schema: z.ZodType, input: unknown, file: string): Warning[] {
  return walk(schema, input, []).map(({ path, key, known }) => ({
    code: 'unknown-field',
    message: `${file}: the field "${fieldName([...path, key])}" is not known and was ignored.${suggestion(key, known)}`,
  }));
}

/** `['sources', 1, 'name']` as `sources, entry 2, name`. */
export function fieldName(path: Path): string {
  return path
    .map((part) => (typeof part === 'number' ? `entry ${part + 1}` : String(part)))
    .join(', ');
}

interface Unknown {
  readonly path: Path;
  readonly key: string;
  readonly known: readonly string[];
}

function walk(schema: unknown, input: unknown, path: Path): Unknown[] {
  const bare = unwrap(schema);
  if (bare instanceof z.ZodArray && Array.isArray(input)) {
    return input.flatMap((item, index) => walk(bare.element, item, [...path, index]));
  }
  if (!(bare instanceof z.ZodObject) || !isRecord(input)) return [];
  const shape: Record<string, unknown> = bare.shape;
  const known = Object.keys(shape);
  return Object.keys(input).flatMap((key) =>
    Object.hasOwn(shape, key)
      ? walk(shape[key], input[key], [...path, key])
      : [{ path, key, known: known.filter((name) => !Object.hasOwn(input, name)) }],
  );
}

function unwrap(schema: unknown): unknown {
  return schema instanceof z.ZodOptional || schema instanceof z.ZodNullable
    ? unwrap(schema.unwrap())
    : schema;
}

function lookAlike(schema: z.ZodType, input: unknown, path: Path): string {
  const missing = String(path.at(-1));
  const stray = walk(schema, input, [])
    .filter((field) => fieldName(field.path) === fieldName(path.slice(0, -1)))
    .find((field) => didYouMean(field.key, [missing]) !== null);
  return stray === undefined ? '' : ` "${stray.key}" looks like a misspelling of it.`;
}

function textInsteadOfNumber(value: unknown, expected: string): string {
  const number = typeof value === 'string' && /^\s*[+-]?[\d.,]+\s*%?\s*$/.test(value);
  return number && /^an? (?:number|percentage|fraction|time|wavelength|whole)/.test(expected)
    ? ' Numbers stand without quotation marks.'
    : '';
}

function valueAt(input: unknown, path: Path): unknown {
  let value = input;
  for (const part of path) {
    if (typeof value !== 'object' || value === null) return undefined;
    value = Object.hasOwn(value, part) ? Reflect.get(value, part) : undefined;
  }
  return value;
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
