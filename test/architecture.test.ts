import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';

const src = fileURLToPath(new URL('../src', import.meta.url));

/** The rooms, in the order of the work. A room imports only from those before it. */
const ROOMS = [
  'record',
  'settle',
  'readings',
  'agree',
  'budget',
  'verdict',
  'series',
  'power',
  'wavelengths',
  'opinions',
  'hazard',
  'factors',
  'plan',
  'simulate',
  'findings',
  'measure',
  'figures',
  'report',
  'terminal',
  'notebook',
  'commands',
];
const WORDS = ['vocabulary', 'vocabulary.ts', 'error.ts'];
/** How a number is printed: the sentences of every room ask it, and it asks no room. */
const NUMBER_FORMAT = ['decimal', 'formatNumber', 'formatUncertain'].map(
  (name) => `findings/${name}.ts`,
);
const FOR_ALL = ['statistics', ...WORDS];
const NOTEBOOK_ONLY = ['tslab', 'danfojs', 'plotly.js-dist'];

/** What a source file imports: static, re-exported and dynamic, without what stands in comments. */
function importsIn(code: string): readonly string[] {
  const bare = code.replace(/\/\*[\s\S]*?\*\//g, '').replace(/^\s*\/\/.*$/gm, '');
  const patterns = [
    /\bfrom\s+['"]([^'"]+)['"]/g,
    /^\s*import\s+['"]([^'"]+)['"]/gm,
    /\bimport\(\s*['"]([^'"]+)['"]/g,
    /\brequire\(\s*['"]([^'"]+)['"]/g,
  ];
  return patterns.flatMap((pattern) => [...bare.matchAll(pattern)].map((match) => match[1] ?? ''));
}

interface SourceFile {
  /** Path below src, with slashes. */
  readonly path: string;
  readonly code: string;
  /** Files of this package that it imports, as paths below src. */
  readonly files: readonly string[];
  /** Other packages that it imports. */
  readonly packages: readonly string[];
}

const slashed = (path: string) => path.split(sep).join('/');

const sources: readonly SourceFile[] = readdirSync(src, { recursive: true, encoding: 'utf8' })
  .filter((path) => path.endsWith('.ts') && !path.endsWith('.d.ts'))
  .map((path) => {
    const code = readFileSync(join(src, path), 'utf8');
    const all = importsIn(code);
    const own = all.filter((name) => name.startsWith('.'));
    return {
      path: slashed(path),
      code,
      files: own.map((name) =>
        slashed(relative(src, resolve(src, dirname(path), name))).replace(/\.js$/, '.ts'),
      ),
      packages: all.filter((name) => !name.startsWith('.') && !name.startsWith('node:')),
    };
  });

const folderOf = (path: string) => path.split('/')[0] ?? path;

test('the reader of imports sees every form of import, and none in a comment', () => {
  const code = `import a from 'one';
import type { B } from "two";
export * from './three.js';
import 'four';
const c = await import('five');
// import no from 'six';
/* from 'seven' */
import {
  d,
} from 'eight';`;
  expect([...importsIn(code)].sort()).toEqual(
    ['./three.js', 'eight', 'five', 'four', 'one', 'two'].sort(),
  );
});

test('every import leads to a file that exists', () => {
  const paths = new Set(sources.map((source) => source.path));
  const lost = sources.flatMap((source) =>
    source.files.filter((file) => !paths.has(file)).map((file) => `${source.path} → ${file}`),
  );
  expect(sources.length).toBeGreaterThan(10);
  expect(lost).toEqual([]);
});

test('every folder of src is a room, the statistics or the vocabulary', () => {
  const folders = new Set(sources.map((s) => folderOf(s.path)).filter((f) => !f.endsWith('.ts')));
  expect(
    [...folders].filter((folder) => ![...ROOMS, 'statistics', 'vocabulary'].includes(folder)),
  ).toEqual([]);
});

test('a room imports only from earlier rooms, the statistics, the vocabulary and the error', () => {
  const wrong = sources.flatMap((source) => {
    const from = folderOf(source.path);
    const place = ROOMS.indexOf(from);
    if (place < 0) return [];
    const allowed = [...FOR_ALL, ...ROOMS.slice(0, place + 1)];
    // The bench analyses what it closes.
    if (from === 'measure') allowed.push('analyse.ts');
    // Notebooks and commands stand at the end of the line: they use the method as a whole.
    if (from === 'notebook' || from === 'commands') allowed.push('analyse.ts', 'index.ts');
    return source.files
      .filter((file) => !allowed.includes(folderOf(file)) && !NUMBER_FORMAT.includes(file))
      .map((file) => `${source.path} → ${file}`);
  });
  expect(wrong).toEqual([]);
});

test('the number format imports no room: only itself, the statistics and the error', () => {
  const format = sources.filter((source) => NUMBER_FORMAT.includes(source.path));
  expect(format.length).toBe(NUMBER_FORMAT.length);
  const wrong = format.flatMap((source) =>
    source.files.filter(
      (file) => ![...NUMBER_FORMAT, ...FOR_ALL].includes(file) && !FOR_ALL.includes(folderOf(file)),
    ),
  );
  expect(wrong).toEqual([]);
});

test('the statistics import no room, and the vocabulary and the error import nothing', () => {
  const wrong = sources.flatMap((source) => {
    const from = folderOf(source.path);
    if (!FOR_ALL.includes(from)) return [];
    const allowed = from === 'statistics' ? FOR_ALL : WORDS;
    return source.files
      .filter((file) => !allowed.includes(folderOf(file)))
      .map((file) => `${source.path} → ${file}`);
  });
  expect(wrong).toEqual([]);
});

test('only notebook/ imports the kernel, the plotting library and the data frames', () => {
  const users = (name: string) =>
    sources
      .filter((source) => source.packages.some((p) => p === name || p.startsWith(`${name}/`)))
      .map((source) => source.path);
  const outside = NOTEBOOK_ONLY.flatMap(users).filter((path) => folderOf(path) !== 'notebook');
  expect(outside).toEqual([]);
  // So that the sentence above says something: they are used there.
  expect(users('tslab').length).toBeGreaterThan(0);
  expect(users('danfojs')).toEqual(['notebook/frames.ts']);
});

test('nothing but notebook/ and commands/ imports from notebook/, the package’s front door included', () => {
  const wrong = sources
    .filter((source) => !['notebook', 'commands'].includes(folderOf(source.path)))
    .filter((source) => source.path !== 'inside.ts')
    .filter((source) => source.files.some((file) => folderOf(file) === 'notebook'))
    .map((source) => source.path);
  expect(wrong).toEqual([]);
});

/** A chain of imports that leads back to where it began, or nothing. */
function cycleFrom(graph: ReadonlyMap<string, readonly string[]>): readonly string[] | null {
  const done = new Set<string>();
  const visit = (path: string, trail: readonly string[]): readonly string[] | null => {
    const seen = trail.indexOf(path);
    if (seen >= 0) return [...trail.slice(seen), path];
    if (done.has(path)) return null;
    for (const next of graph.get(path) ?? []) {
      const cycle = visit(next, [...trail, path]);
      if (cycle) return cycle;
    }
    done.add(path);
    return null;
  };
  for (const path of graph.keys()) {
    const cycle = visit(path, []);
    if (cycle) return cycle;
  }
  return null;
}

describe('imports run in no circle', () => {
  test('in the package', () => {
    expect(cycleFrom(new Map(sources.map((source) => [source.path, source.files])))).toBeNull();
  });

  test('and a circle would be found', () => {
    const graph = new Map([
      ['a', ['b']],
      ['b', ['c']],
      ['c', ['b']],
    ]);
    expect(cycleFrom(graph)).toEqual(['b', 'c', 'b']);
  });
});

test('no type is left open', () => {
  const open = /(?::|\bas|<|\||&|=>)\s*any\b(?!['\w])/;
  expect('const x: any = 1;').toMatch(open);
  const users = sources.flatMap((source) =>
    source.code
      .replace(/\/\*[\s\S]*?\*\//g, '')
      .split('\n')
      .map((line) => line.replace(/\/\/.*$/, '').replace(/'[^']*'|"[^"]*"|`[^`]*`/g, "''"))
      .filter((line) => open.test(line))
      .map((line) => `${source.path}: ${line.trim()}`),
  );
  expect(users).toEqual([]);
});

test('the state of the bench and its page touch neither disk nor network: those have files of their own', () => {
  const doors = ['desk.ts', 'firstSheet.ts', 'folder.ts', 'lock.ts', 'server.ts'];
  const bench = sources.filter((source) => folderOf(source.path) === 'measure');
  const users = bench
    .filter(({ code }) => /from 'node:/.test(code))
    .map(({ path }) => path.replace('measure/', ''));
  expect(users.filter((name) => !doors.includes(name))).toEqual([]);
  expect(users.length).toBeGreaterThan(0);
  const page = bench.filter(({ path }) => path.startsWith('measure/page/'));
  expect(page.flatMap(({ packages }) => packages)).toEqual([]);
});

test('what the scripts look into is imported by nothing else, and each name of it by a script', () => {
  const text = readFileSync(join(src, 'inside.ts'), 'utf8');
  expect(sources.filter(({ files }) => files.includes('inside.ts'))).toEqual([]);
  const scripts = readdirSync(join(src, '../scripts'), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.mjs'))
    .map((name) => readFileSync(join(src, '../scripts', name), 'utf8'))
    .filter((script) => script.includes('dist/inside.js'));
  const names = [...text.matchAll(/export \{ ([^}]+) \}/g)].flatMap(([, list = '']) =>
    list.split(', '),
  );
  expect(names.length).toBeGreaterThan(20);
  expect(names.filter((name) => !scripts.some((script) => script.includes(name)))).toEqual([]);
});
