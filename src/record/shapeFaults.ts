/** What a failed check of a JSON value says to its author. */
import * as z from 'zod';
import type { ErrorCode, ErrorParts } from '../error.js';
import { didYouMean, suggestion } from '../statistics/didYouMean.js';
import { groupedBy } from '../statistics/groupedBy.js';
import type { Warning } from '../vocabulary.js';
import { quoted, SHOWN } from './faults.js';
import { LONGEST_NAME } from './studySchema.js';

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
  const strays = once(() => straysByPlace(schema, input));
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
    // Only the faults that are shown need a hint.
    const hint =
      seen.size > SHOWN
        ? ''
        : missing && issue.path.length > 0
          ? lookAlike(strays(), issue.path)
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

/** A warning for each of the first ten fields that the schema does not know, and one for the rest. */
export function unknownFields(schema: z.ZodType, input: unknown, file: string): Warning[] {
  const all = walk(schema, input, []);
  const code = 'unknown-field';
  const named = all.slice(0, SHOWN).map(({ path, key, known }) => ({
    code,
    message: `${file}: the field "${fieldName([...path, shortened(key)])}" is not known and was ignored.${suggestion(key, known())}`,
  }));
  const more = all.length - named.length;
  if (more === 0) return named;
  const message = `${file}: ${more} more ${more === 1 ? 'field is' : 'fields are'} not known and ${more === 1 ? 'was' : 'were'} ignored.`;
  return [...named, { code, message }];
}

const shortened = (key: string) =>
  key.length > LONGEST_NAME ? `${key.slice(0, LONGEST_NAME)}…` : key;

function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
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
  /** Names that the place knows and does not have yet. */
  readonly known: () => readonly string[];
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
      : [{ path, key, known: () => known.filter((name) => !Object.hasOwn(input, name)) }],
  );
}

function unwrap(schema: unknown): unknown {
  if (schema instanceof z.ZodPipe) return unwrap(schema.in);
  return schema instanceof z.ZodOptional || schema instanceof z.ZodNullable
    ? unwrap(schema.unwrap())
    : schema;
}

/** Fields that the schema does not know, by the place they stand in. */
function straysByPlace(schema: z.ZodType, input: unknown): ReadonlyMap<string, readonly string[]> {
  const strays = [...walk(schema, input, [])];
  return groupedBy(strays.map(({ path, key }) => [fieldName(path), key] as const));
}

function lookAlike(strays: ReadonlyMap<string, readonly string[]>, path: Path): string {
  const missing = String(path.at(-1));
  const stray = strays
    .get(fieldName(path.slice(0, -1)))
    ?.find((key) => didYouMean(key, [missing]) !== null);
  return stray === undefined ? '' : ` "${stray}" looks like a misspelling of it.`;
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
