import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { closedTypes } from './declarations.js';
import { agrees, BLOCKS, DOORS, runExamples } from './examples.js';

const root = new URL('../../', import.meta.url);
const text = (path: string) => readFileSync(new URL(path, root), 'utf8');
const under = (folder: string, end: string) =>
  readdirSync(new URL(folder, root), { recursive: true })
    .map((file) => `${folder}${file}`)
    .filter((file) => file.endsWith(end));
const PAGES = ['README.md', 'DEVELOPERS.md', ...under('docs/', '.md')];
// DEVELOPERS.md speaks of what is private, the list of changes of what is gone.
const USERS_PAGES = PAGES.filter((page) => !/DEVELOPERS|changelog/.test(page));
const [front = [], methods = []] = Object.values(DOORS).map((door) => Object.keys(door));

describe('the examples of the pages', () => {
  test.each([...BLOCKS])('%s: what comes out is what stands beside it', (_, block) => {
    const examples = runExamples(block);
    expect(examples.length).toBeGreaterThan(1);
    expect(examples.filter(({ said, found }) => !agrees(said, found))).toEqual([]);
  });

  test('a wrong digit, word or shape would be noticed', () => {
    expect(agrees('2.26', 2.2622)).toBe(true);
    expect(agrees('2.27', 2.2622)).toBe(false);
    expect(agrees('5.61e-5', 5.608e-5)).toBe(true);
    expect(agrees("{ a: 'x', b: [1, null] }", { a: 'x', b: [1, null] })).toBe(true);
    expect(agrees("{ a: 'y', b: [1, null] }", { a: 'x', b: [1, null] })).toBe(false);
    expect(agrees('{ a: 1 }', { b: 1 })).toBe(false);
    expect(agrees('[1]', [1, 2])).toBe(false);
    const [one] = runExamples(
      "import { coverageFactor } from 'meterpair/methods';\ncoverageFactor(\n  0.95,\n  9,\n); // 2",
    );
    expect(one).toMatchObject({ said: '2', found: expect.closeTo(2.262, 3) });
  });

  test('call every method', () => {
    const blocks = [...BLOCKS.values()].join('\n').replace(/import \{[^}]*\}/g, '');
    expect(methods.filter((name) => !new RegExp(`\\b${name}\\(`).test(blocks))).toEqual([]);
    expect(methods.length).toBeGreaterThan(50);
  });
});

describe('the doors', () => {
  test('every name of the front door stands on a page', () => {
    const pages = PAGES.map(text).join('\n');
    expect(front.filter((name) => !new RegExp(`\\b${name}\\b`).test(pages))).toEqual([]);
  });

  test('no page names a function that cannot be imported', () => {
    const functions = under('src/', '.ts').flatMap((file) =>
      [...text(file).matchAll(/^export (?:async )?function (\w+)/gm)].map(([, name = '']) => name),
    );
    expect(functions.length).toBeGreaterThan(300);
    const open = new Set(Object.values(DOORS).flatMap((door) => Object.keys(door)));
    const closed = new Set(functions.filter((name) => /[A-Z]/.test(name) && !open.has(name)));

    const named = USERS_PAGES.flatMap((page) =>
      [...text(page).matchAll(/`(\w+)(?:\([^`]*\))?`/g)]
        .filter(([, name = '']) => closed.has(name))
        .map(([, name]) => `${page}: ${name}`),
    );
    expect(named).toEqual([]);
  });

  test('a name stands at one door', () => {
    expect(methods.filter((name) => front.includes(name))).toEqual([]);
  });

  test.each(['index', 'methods'])('%s exports every type that its signatures speak of', (door) => {
    expect(closedTypes(`${door}.d.ts`)).toEqual([]);
  });

  test('and a type that is missing would be found', () => {
    expect(closedTypes('budget/combine.d.ts')).toContain('Contribution of vocabulary/wavelengths');
  });
});
