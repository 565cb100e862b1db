import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { expect, test } from 'vitest';
import { parseStudy } from '../../src/record/parseStudy.js';
import { studyJsonSchema } from '../../src/record/studyJsonSchema.js';
import { DEFAULTS, LABEL_CLASSES, RUN_ORDERS } from '../../src/record/studySchema.js';
import { codesOf } from './support.js';

const page = readFileSync(join(import.meta.dirname, '../../docs/file-formats.md'), 'utf8');
const examples = (language: string) =>
  [...page.matchAll(new RegExp(`\`\`\`${language}\\n([^]*?)\`\`\``, 'g'))].map(
    ([, text = '']) => text,
  );
const [smallest = '', full = '', opinions = ''] = examples('json');
const [tidy = '', sideBySide = '', traces = ''] = examples('csv');

test('the page shows three JSON and three CSV examples', () => {
  expect(examples('json')).toHaveLength(3);
  expect(examples('csv')).toHaveLength(3);
});

test('the full study of the page is read with both tables, traces and opinions, without a warning', () => {
  for (const runs of [tidy, sideBySide]) {
    const study = parseStudy(JSON.parse(full), {
      runs,
      opinions,
      ...(runs === tidy ? { traces } : {}),
    });
    expect(study.warnings).toEqual([]);
    expect(study.series.map((series) => series.id)).toEqual(['green 1', 'red 1']);
    expect(study.opinions).toHaveLength(2);
    expect(study.traces).toHaveLength(runs === tidy ? 1 : 0);
  }
});

test('the smallest study of the page is read, with the warnings that the page announces', () => {
  const study = parseStudy(JSON.parse(smallest), { runs: 'reference_mW,candidate_mW\n5,4' });
  expect(codesOf(study)).toEqual([
    'reference-uncertainty-not-stated',
    'tolerance-default',
    'order-default',
  ]);
});

test('both studies of the page fit the schema that editors use', () => {
  const accepts = new Ajv2020().compile(studyJsonSchema());
  expect(accepts(JSON.parse(smallest))).toBe(true);
  expect(accepts(JSON.parse(full))).toBe(true);
});

test('the page lists every field of the schema and every default as they are', () => {
  const names = new Set<string>();
  const visit = (node: unknown): void => {
    if (typeof node !== 'object' || node === null) return;
    for (const [key, value] of Object.entries(node)) {
      if (key === 'properties') for (const name of Object.keys(value as object)) names.add(name);
      visit(value);
    }
  };
  visit(studyJsonSchema());
  expect(names.size).toBeGreaterThan(25);
  expect([...names].filter((name) => !page.includes(name))).toEqual([]);
  const row = (field: string) =>
    page.split('\n').find((line) => line.startsWith('|') && line.includes(`\`${field}\``)) ?? '';
  expect(row('tolerance_percent')).toContain(`| ${DEFAULTS.tolerance_percent}, with a warning`);
  expect(row('confidence')).toContain(`| ${DEFAULTS.confidence} |`);
  expect(row('limits_multiplier')).toContain(`| ${DEFAULTS.limits_multiplier} |`);
  expect(row('coverage_factor')).toContain(`| ${DEFAULTS.coverage_factor}, with`);
  expect(row('protocol.discard_first_laps')).toContain(`| ${DEFAULTS.discard_first_laps} |`);
  expect(row('protocol.exclude_cold_starts')).toContain(`| \`${DEFAULTS.exclude_cold_starts}\` |`);
  expect(row('protocol.exclude_outliers')).toContain(`| \`${DEFAULTS.exclude_outliers}\``);
  for (const order of RUN_ORDERS) expect(row('protocol.order')).toContain(`\`${order}\``);
  for (const label of LABEL_CLASSES)
    expect(row('label_class')).toMatch(new RegExp(`\\b${label}\\b`));
});
