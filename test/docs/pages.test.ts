import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { DOUBLED_LINES_NM, LEAKED_INFRARED_NM } from '../../src/wavelengths/infraredLeak.js';

const root = new URL('../../', import.meta.url);
const page = (path: string) => readFileSync(new URL(path, root), 'utf8');
const METHODS = readdirSync(new URL('docs/methods/', root)).filter((name) => name.endsWith('.md'));
const PAGES = [
  'README.md',
  'DEVELOPERS.md',
  ...[
    'guide.md',
    'bench.md',
    'file-formats.md',
    'coverage.md',
    'corrections.md',
    'code.md',
    'changelog.md',
    'validation.md',
    'measured.md',
    'result-fields.md',
  ].map((name) => `docs/${name}`),
  ...METHODS.map((name) => `docs/methods/${name}`),
];

test('the doubled lines stand on one page, as the code has them', () => {
  const hazard = page('docs/methods/hazard.md');
  const [, list = ''] = /\*\*Doubled lines\.\*\* ([^:]*?) nm, ± 1 nm/.exec(hazard) ?? [];
  expect(list.split(/, | and /).map(Number)).toEqual(DOUBLED_LINES_NM);
  expect(hazard).toContain(`infrared of ${LEAKED_INFRARED_NM.join(' or ')} nm`);
  const others = PAGES.filter((name) => name !== 'docs/methods/hazard.md');
  expect(others.filter((name) => /\b473\b.*\b561\b/.test(page(name)))).toEqual([]);
});

test('what several pages speak of stands on one of them, and the others link', () => {
  const told = {
    'the order-bias table': [/^\| ABBA BAAB \|/m, 'docs/methods/planning.md'],
    'thresholds of cold starts': [/^\| 0\.02 to 0\.2 \|/m, 'docs/methods/screening.md'],
    'degrees of drift': [/^\| 10 and more \| 2 \|/m, 'docs/methods/series-factor.md'],
    'the random-effects mean': [/\/\(uᵢ² \+ τ²\) = m − 1/, 'docs/methods/wavelengths.md'],
    'the rounding of displays': [/exp\(−2π²k²σ²\/d²\)/, 'docs/methods/series-factor.md'],
    'the study example': [/^```json\n\{\n {2}"reference"/m, 'docs/file-formats.md'],
    'the infrared formula': [/R1 − τI·R0\)\/\(τG − τI/, 'docs/methods/hazard.md'],
    'the usual placements': [/0\.5 %, by hand 2 %/, 'docs/methods/wavelengths.md'],
  } as const;
  // The page of what has no source quotes the others.
  const pages = PAGES.filter((name) => name !== 'docs/validation.md');
  for (const [what, [words, home]] of Object.entries(told)) {
    expect([what, pages.filter((name) => words.test(page(name)))]).toEqual([what, [home]]);
  }
});

test('every method page is listed, and every test that the pages name is there', () => {
  const index = page('docs/methods/README.md');
  for (const name of METHODS.filter((one) => one !== 'README.md')) {
    expect(index).toContain(`[${name}](${name})`);
  }
  const named = PAGES.flatMap((name) =>
    [...page(name).matchAll(/`((?:test|src)\/[\w/.-]+\.(?:ts|py))`/g)].map(
      (match) => match[1] ?? '',
    ),
  );
  expect(named.length).toBeGreaterThan(60);
  const invented = ['test/published/yourCase.cases.ts', 'test/published/yourCase.test.ts'];
  const missing = named.filter((path) => {
    try {
      page(path);
      return false;
    } catch {
      return true;
    }
  });
  expect([...new Set(missing)].sort()).toEqual(invented);
});

test('links between the pages lead to pages and headings that are there', () => {
  const slug = (heading: string) =>
    heading
      .trim()
      .toLowerCase()
      .replace(/[^\p{L}\p{N} _-]/gu, '')
      .replace(/ /g, '-');
  const broken = PAGES.flatMap((from) =>
    [...page(from).matchAll(/\]\(([^)\s:]+\.md)(#[\w-]+)?\)/g)].flatMap(([, to = '', anchor]) => {
      const path = new URL(to, new URL(from, root));
      try {
        const text = readFileSync(path, 'utf8');
        const headings = [...text.matchAll(/^#+ (.*)$/gm)].map((match) => slug(match[1] ?? ''));
        const found = anchor === undefined || headings.includes(anchor.slice(1));
        return found ? [] : [`${from}: ${to}${anchor}`];
      } catch {
        return [`${from}: ${to}`];
      }
    }),
  );
  expect(broken).toEqual([]);
});

test('no page speaks of what is gone', () => {
  const gone = /checkByMonteCarlo|JSON\.parse\(readFileSync|same reading time|Check by Monte Carlo/;
  expect(PAGES.filter((name) => gone.test(page(name)))).toEqual([]);
});
