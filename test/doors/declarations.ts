/** Reads the built declarations: what a door exports, and which types its exports speak of. */
import { readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

export const DIST = fileURLToPath(new URL('../../dist/', import.meta.url));

interface Declarations {
  /** Name → text of a function, constant, class, interface or type that the file declares. */
  readonly own: ReadonlyMap<string, string>;
  /** Name → file and name there, of what the file imports. */
  readonly imported: ReadonlyMap<string, readonly [string, string]>;
  /** Name → file and name there, of what the file hands on. */
  readonly handedOn: ReadonlyMap<string, readonly [string, string]>;
  /** Files of which everything is handed on. */
  readonly whole: readonly string[];
}

const read = new Map<string, Declarations>();

function declarationsOf(file: string): Declarations {
  const before = read.get(file);
  if (before !== undefined) return before;
  const text = readFileSync(join(DIST, file), 'utf8').replace(/\/\*[\s\S]*?\*\//g, '');
  const target = (path: string) =>
    relative(DIST, resolve(DIST, dirname(file), path)).replace(/\.js$/, '.d.ts');
  const named = (pattern: RegExp) =>
    new Map(
      [...text.matchAll(pattern)].flatMap(([, names = '', path = '']) =>
        names
          .split(',')
          .map((name) => name.trim().replace(/^type /, ''))
          .filter((name) => name !== '')
          .map((name) => {
            const [there = '', here = there] = name.split(' as ');
            return [here, [target(path), there]] as const;
          }),
      ),
    );
  // A statement begins at the margin.
  const own = new Map(
    text
      .split(/\n(?=(?:export|import|declare|interface|type)\b)/)
      .map((part) => [
        /^(?:export )?(?:declare )?(?:function|const|class|interface|type) (\w+)/.exec(part)?.[1],
        part,
      ])
      .filter((pair): pair is [string, string] => pair[0] !== undefined),
  );
  const found = {
    own,
    imported: named(/import (?:type )?\{([^}]*)\} from '(\.[^']+)'/g),
    handedOn: named(/export (?:type )?\{([^}]*)\} from '(\.[^']+)'/g),
    whole: [...text.matchAll(/export (?:type )?\* from '(\.[^']+)'/g)].map((match) =>
      target(match[1] ?? ''),
    ),
  };
  read.set(file, found);
  return found;
}

/** Everything that a door exports, types included: name → file that declares it. */
export function exportsOf(file: string): ReadonlyMap<string, string> {
  const { own, handedOn, whole } = declarationsOf(file);
  return new Map([
    ...whole.flatMap((one) => [...exportsOf(one)]),
    ...[...handedOn].map(([here, [there]]) => [here, there] as const),
    ...[...own]
      .filter(([, text]) => text.startsWith('export'))
      .map(([name]) => [name, file] as const),
  ]);
}

function place(file: string, name: string): readonly [string, string] | null {
  const { own, imported, handedOn, whole } = declarationsOf(file);
  if (own.has(name)) return [file, name];
  const next = imported.get(name) ?? handedOn.get(name);
  if (next !== undefined) return place(...next);
  for (const one of whole) {
    const found = place(one, name);
    if (found !== null) return found;
  }
  return null;
}

/** Types in the signatures behind a door that it does not export, with the file of each. */
export function closedTypes(door: string): readonly string[] {
  const exported = exportsOf(door);
  const seen = new Set<string>();
  const closed = new Set<string>();
  const visit = (file: string, name: string) => {
    if (seen.has(`${file} ${name}`)) return;
    seen.add(`${file} ${name}`);
    const text = declarationsOf(file).own.get(name) ?? '';
    for (const [word] of text.matchAll(/\b[A-Z]\w+/g)) {
      const at = place(file, word);
      if (at === null) continue;
      if (!exported.has(at[1])) closed.add(`${at[1]} of ${at[0].replace('.d.ts', '')}`);
      visit(...at);
    }
  };
  for (const [name, file] of exported) {
    const at = place(file, name);
    if (at !== null) visit(...at);
  }
  return [...closed].sort();
}
