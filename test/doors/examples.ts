/** Runs the code blocks of the pages, and compares each value with the comment beside it. */
import { readdirSync, readFileSync } from 'node:fs';
import * as meterpair from '../../src/index.js';
import * as methods from '../../src/methods.js';

type Named = Readonly<Record<string, unknown>>;
export type Doors = Readonly<Record<string, Named>>;

export const DOORS: Doors = { meterpair, 'meterpair/methods': methods };

const DOCS = new URL('../../docs/', import.meta.url);
const PAGES = [
  'code.md',
  ...readdirSync(new URL('methods/', DOCS)).map((page) => `methods/${page}`),
];

/** Page → its block of code, where it has one. */
export const BLOCKS: ReadonlyMap<string, string> = new Map(
  PAGES.map(
    (page) =>
      [page, /```js\n(.*?)```/s.exec(readFileSync(new URL(page, DOCS), 'utf8'))?.[1]] as const,
  ).filter((pair): pair is [string, string] => pair[1] !== undefined),
);

export interface Example {
  readonly code: string;
  /** What the page says that comes out. */
  readonly said: string;
  readonly found: unknown;
}

/** A statement begins at the margin, with no closing bracket; its value is said after `; //`. */
export function runExamples(block: string, doors: Doors = DOORS): readonly Example[] {
  const examples: Example[] = [];
  const statements = block.split(/\n(?=[^\s)}\]])/).map((statement) => {
    const [, code, said] = /^([^\n].*); \/\/ (.+?)\s*$/s.exec(statement) ?? [];
    if (code === undefined || /^(import|const|let|\/\/)/.test(code)) return statement;
    return `note(${JSON.stringify(code)}, ${JSON.stringify(said)}, (${code}));`;
  });
  const code = statements
    .join('\n')
    .replace(/import (\{[^}]*\}) from '([^']+)'/g, "const $1 = doors['$2']");
  const note = (code: string, said: string, found: unknown) => examples.push({ code, said, found });
  new Function('doors', 'note', `'use strict';\n${code}`)(doors, note);
  return examples;
}

const NUMBER = /-?\d+(?:\.\d+)?(?:e[+-]?\d+)?/g;

/** A value as a page would write it, numbers in full. */
export function written(value: unknown): string {
  if (typeof value === 'string') return `'${value}'`;
  if (Array.isArray(value)) return `[${value.map(written).join(', ')}]`;
  if (typeof value !== 'object' || value === null) return String(value);
  const fields = Object.entries(value).map(([name, one]) => `${name}: ${written(one)}`);
  return `{ ${fields.join(', ')} }`;
}

/** Whether a value is what the page says, each number to half a unit of its last printed digit. */
export function agrees(said: string, found: unknown): boolean {
  const full = written(found);
  const texts = /'[^']*'|[A-Za-z_]\w*/g;
  const shape = (text: string) => text.replace(NUMBER, '#');
  if (shape(said) !== shape(full)) return false;
  if (`${shape(said).match(texts)}` !== `${shape(full).match(texts)}`) return false;
  const printed = said.match(NUMBER) ?? [];
  return (full.match(NUMBER) ?? []).every((number, i) => {
    const [mantissa = '', exponent = '0'] = (printed[i] ?? '').split('e');
    const decimals = mantissa.split('.')[1]?.length ?? 0;
    const half = 0.5 * 10 ** (Number(exponent) - decimals);
    return Math.abs(Number(number) - Number(printed[i])) <= half * (1 + 1e-9);
  });
}
