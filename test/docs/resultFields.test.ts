import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, test } from 'vitest';
import { fieldRecords, resultFieldsPage } from '../../scripts/pages/resultFields.mjs';
import { vocabulary } from '../../scripts/pages/vocabulary.mjs';
import { analyse } from '../../src/analyse.js';
import { factorsOf } from '../../src/factors/factorsOf.js';
import { readStudy } from '../../src/record/readStudy.js';
import type { Factors } from '../../src/vocabulary.js';

const page = readFileSync(new URL('../../docs/result-fields.md', import.meta.url), 'utf8');

/** The tables of the page: record → field → the record that it holds, or `null` for a plain value. */
const records = new Map(
  fieldRecords(vocabulary())
    .flatMap((part) => part.records)
    .map(({ name, fields }) => [
      name,
      new Map(fields.flatMap(({ names, held }) => names.map((one) => [one, held] as const))),
    ]),
);

/** Fields of a value that the page does not list, and those that it has seen. */
function compare(value: unknown, record: string, seen: Set<string>): readonly string[] {
  const fields = records.get(record);
  if (fields === undefined) return [`There is no table "${record}".`];
  if (typeof value !== 'object' || value === null) return [`${record} is no record.`];
  return Object.entries(value).flatMap(([key, one]) => {
    const held = fields.get(key);
    if (held === undefined) return [`${record}.${key}`];
    seen.add(`${record}.${key}`);
    const parts = (Array.isArray(one) ? one : [one]).filter((part) => part !== null);
    if (held !== null) return parts.flatMap((part) => compare(part, held, seen));
    return parts.some((part) => typeof part === 'object' && !Array.isArray(part))
      ? [`${record}.${key} holds a record`]
      : [];
  });
}

describe('the page about result.json and factors.json', () => {
  const seen = new Set<string>();
  const faults: string[] = [];
  beforeAll(async () => {
    const root = fileURLToPath(new URL('../../data-demo/', import.meta.url));
    const earlier: Factors[] = [];
    for (const name of readdirSync(root).sort()) {
      const study = await readStudy(root + name);
      const result = analyse(study, { earlier: [...earlier] });
      const factors = factorsOf(study, result);
      earlier.push(factors);
      faults.push(...compare(result, 'result', seen), ...compare(factors, 'factors', seen));
    }
  });

  test('is made of the types as they are', () => {
    expect(resultFieldsPage(vocabulary())).toBe(page);
    // A field without a sentence is no page.
    const bare = vocabulary().map((text) => text.replace('/** Runs left out. */', ''));
    expect(() => resultFieldsPage(bare)).toThrow('series.excluded has no sentence');
  });

  test('lists every field of every demo', () => {
    expect([...new Set(faults)]).toEqual([]);
  });

  test('lists no field that none of the demos has', () => {
    const listed = [...records].flatMap(([name, fields]) =>
      [...fields.keys()].map((field) => `${name}.${field}`),
    );
    // No demo has a third meter at three sources.
    const notInDemos = ['meter', 'relative_sd'].map(
      (field) => `three instruments: instruments.${field}`,
    );
    expect(listed.filter((one) => !seen.has(one)).sort()).toEqual(notInDemos);
    expect(listed.length).toBeGreaterThan(200);
  });
});
