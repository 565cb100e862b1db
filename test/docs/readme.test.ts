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
  it('shows a study that reads, with the units and names it says', () => {
    const study = meterpair.parseStudy(JSON.parse(block('json')), { runs: block('csv') });
    expect(study.series).toHaveLength(1);
    expect(study.series[0].runs.map((run) => run.reading_mW)).toEqual([91.3, 75, 74, 90.2]);
    expect(study.series[0].wavelength_nm).toBe(405);
    // The two laps, 91.3/75 and 90.2/74, enclose the factor, whatever the model makes of four runs.
    const { factor } = meterpair.analyse(study).series[0];
    expect(factor.value).toBeGreaterThan(91.3 / 75 - 0.01);
    expect(factor.value).toBeLessThan(90.2 / 74 + 0.01);
  });

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
