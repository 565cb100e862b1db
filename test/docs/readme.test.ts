import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import * as meterpair from '../../src/index.js';

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const read = (path: string) => readFileSync(join(root, path), 'utf8');
const README = read('README.md');

function block(language: string): string {
  const match = README.match(new RegExp(`\`\`\`${language}\n(.*?)\`\`\``, 's'));
  if (match === null) throw new Error(`README has no ${language} block`);
  return match[1];
}

describe('README', () => {
  it('uses names in its example that the package exports', () => {
    const names =
      block('js')
        .match(/import \{ ([^}]*) \} from 'meterpair'/)?.[1]
        .split(', ') ?? [];
    expect(names).toEqual(['correct', 'parseFactors']);
    for (const name of names) expect(meterpair).toHaveProperty(name);
  });

  it('names commands that package.json has', () => {
    const { scripts } = JSON.parse(read('package.json'));
    const commands = [...README.matchAll(/npm (?:run )?(start|test|notebooks)\b/g)].map(
      (m) => m[1],
    );
    expect(new Set(commands)).toEqual(new Set(['start', 'test', 'notebooks']));
    for (const command of commands) expect(scripts).toHaveProperty(command);
  });
});

describe('every Markdown page', () => {
  const pages = [
    'README.md',
    'DEVELOPERS.md',
    ...readdirSync(join(root, 'docs'), { recursive: true })
      .map((file) => join('docs', String(file)))
      .filter((file) => file.endsWith('.md')),
  ];
  it.each(pages)('%s has no dead link inside the project', (page) => {
    const links = [...read(page).matchAll(/\]\(([^)#\s]+)[^)]*\)/g)]
      .map((match) => match[1])
      .filter((link) => !/^[a-z]+:/.test(link));
    const dead = links.filter((link) => !existsSync(join(root, dirname(page), link)));
    expect(dead).toEqual([]);
  });
});
