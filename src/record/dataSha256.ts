/** A fingerprint of what was recorded. */
import { createHash } from 'node:crypto';
import { MeterpairError } from '../error.js';
import type { RunEntry } from './runTable.js';
import { type TableText, tableText } from './tableText.js';

/** What the fingerprint is taken of: JSON values as parsed, tables as text. */
export interface StudyContent {
  readonly study: unknown;
  readonly runs: string;
  readonly traces: TableText | undefined;
  readonly opinions: unknown;
}

/**
 * SHA-256 (FIPS 180-4), in hex, over the UTF-8 text that the files give once what carries no data is
 * taken out: byte-order marks, kinds of line ending, white space at the end, and in JSON spaces, the
 * order of names and `$schema`. Each file contributes its name, a line feed, its content and a line
 * feed, in the order study.json, runs.csv, traces.csv, opinions.json; files that are not there
 * contribute nothing. JSON is written as RFC 8785 prescribes.
 *
 * @throws argument-wrong when a JSON value holds what JSON cannot (a cycle, a BigInt).
 */
export function dataSha256(content: StudyContent): string {
  const { study, runs, traces, opinions } = content;
  const parts: readonly (readonly [string, Iterable<string>])[] = [
    ['study.json', [canonicalJson(withoutSchema(study), 0)]],
    ['runs.csv', withoutEnd(tableText(runs).pieces())],
    ...(traces === undefined ? [] : [['traces.csv', withoutEnd(traces.pieces())] as const]),
    ...(opinions === undefined ? [] : [['opinions.json', [canonicalJson(opinions, 0)]] as const]),
  ];
  const hash = createHash('sha256');
  for (const [name, content] of parts) {
    hash.update(`${name}\n`, 'utf8');
    for (const piece of content) hash.update(piece, 'utf8');
    hash.update('\n');
  }
  return hash.digest('hex');
}

/**
 * SHA-256, in hex, of the readings alone: meter, reading, peak, zero, filter, setting and moment of every
 * run in the order of the rows. The same readings under another title, or with other settings, give
 * the same.
 */
export function readingsSha256(entries: readonly RunEntry[]): string {
  const rows = entries.map(({ readings, started, filter, setting_nm }) => [
    readings.map(({ meter, reading_mW, peak_mW, zero_mW }) => [
      meter,
      reading_mW,
      peak_mW,
      zero_mW,
    ]),
    started?.seconds ?? null,
    filter,
    setting_nm,
  ]);
  return createHash('sha256').update(JSON.stringify(rows), 'utf8').digest('hex');
}

/** A text without the white space at its end, which may fill several pieces. */
function* withoutEnd(pieces: Iterable<string>): Generator<string> {
  let held = '';
  for (const piece of pieces) {
    if (piece.trim() === '') {
      held += piece;
      continue;
    }
    yield held;
    held = piece;
  }
  yield held.trimEnd();
}

function withoutSchema(study: unknown): unknown {
  if (typeof study !== 'object' || study === null || Array.isArray(study)) return study;
  return Object.fromEntries(Object.entries(study).filter(([key]) => key !== '$schema'));
}

/** RFC 8785: no spaces, names sorted by UTF-16 code unit, numbers and texts as ECMAScript has them. */
function canonicalJson(value: unknown, depth: number): string {
  // A cycle has no end, and no study is nested this deep.
  if (depth > 500) throw notJson('nested without end');
  if (Array.isArray(value)) {
    return `[${value.map((item) => canonicalJson(item ?? null, depth + 1)).join(',')}]`;
  }
  if (typeof value === 'object' && value !== null) {
    const members = Object.entries(value)
      .filter(([, member]) => member !== undefined)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([key, member]) => `${JSON.stringify(key)}:${canonicalJson(member, depth + 1)}`);
    return `{${members.join(',')}}`;
  }
  if (value === null || ['string', 'number', 'boolean'].includes(typeof value)) {
    return JSON.stringify(value);
  }
  throw notJson(`a ${typeof value}`);
}

function notJson(found: string): MeterpairError {
  return new MeterpairError({
    code: 'argument-wrong',
    message: 'The study holds a value that a JSON file cannot hold.',
    found,
    expected: 'objects, lists, texts, finite numbers, true, false and null',
  });
}
