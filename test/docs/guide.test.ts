import { readdirSync, readFileSync, statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { correct } from '../../src/factors/correct.js';
import { factorsOf } from '../../src/factors/factorsOf.js';
import type { NewReading } from '../../src/factors/newReading.js';
import { readStudy } from '../../src/record/readStudy.js';
import { studentQuantile } from '../../src/statistics/distributions.js';
import { LEAST_LAPS } from '../../src/vocabulary.js';

const GUIDE = readFileSync(new URL('../../docs/guide.md', import.meta.url), 'utf8');

/** Largest picture, and all of them, bytes. */
const MOST_BYTES = { one: 80 * 1024, all: 600 * 1024 };

test('every picture is there, small, told in words, and none is left over', () => {
  const folder = new URL('../../docs/figures/guide/', import.meta.url);
  const shown = [...GUIDE.matchAll(/!\[([^\]]*)\]\(figures\/guide\/([^)]+)\)/g)];
  const names = shown.map(([, , name]) => name);
  expect(readdirSync(folder).sort()).toEqual([...names].sort());
  expect(names.length).toBeGreaterThan(8);
  expect(shown.filter(([, words = '']) => words.length < 60)).toEqual([]);
  const bytes = names.map((name = '') => statSync(new URL(name, folder)).size);
  expect(Math.max(...bytes)).toBeLessThan(MOST_BYTES.one);
  expect(bytes.reduce((sum, one) => sum + one, 0)).toBeLessThan(MOST_BYTES.all);
});

test('the half-widths that the guide prints are those of Student', () => {
  const text = GUIDE.match(/in standard deviations of one difference: (.*?) \(Student/)?.[1] ?? '';
  const pairs = [...text.matchAll(/(\d+) laps ([\d.]+)/g)];
  expect(pairs).toHaveLength(5);
  for (const [, laps, printed] of pairs) {
    const half = studentQuantile(0.975, Number(laps) - 1) / Math.sqrt(Number(laps));
    const decimals = printed!.split('.')[1]?.length ?? 0;
    expect(half.toFixed(decimals)).toBe(printed);
  }
});

test('what is missing after 3, 4.6 and 7 time constants is what the guide says', () => {
  expect(GUIDE).toContain(
    'After 3 time constants 5 % is missing, after 4.6 it is 1 %, after 7 it is 0.1 %',
  );
  expect([3, 4.6, 7].map((times) => (100 * Math.exp(-times)).toFixed(times > 5 ? 1 : 0))).toEqual([
    '5',
    '1',
    '0.1',
  ]);
});

test('the worked correction is K of the evening times the reading', () => {
  const [, factor, reading, power] =
    GUIDE.match(/K = ([\d.]+) and a reading of (\d+) mW give ([\d.]+) mW/) ?? [];
  expect((Number(factor) * Number(reading)).toFixed(1)).toBe(power);
  expect(GUIDE).toMatch(new RegExp(`\n +520 .* ${factor} .*correct it\n`));
  expect(GUIDE).toContain(`--reading ${reading} --nm 520`);
  expect(GUIDE).toContain(`A reading (${reading} mW) at 520 nm comes to (${power} ± `);
});

test('what README corrects is a reading that the demo has factors for', async () => {
  const folder = fileURLToPath(new URL('../../data-demo/1-workshop-evening', import.meta.url));
  const study = await readStudy(folder);
  const factors = factorsOf(study, analyse(study));
  const readme = readFileSync(new URL('../../README.md', import.meta.url), 'utf8');
  const [, call = ''] = /correct\(factors, (\{.*?\})\)/.exec(readme) ?? [];
  const reading = JSON.parse(call.replace(/(\w+):/g, '"$1":')) as NewReading;
  const found = correct(factors, reading);
  expect(found.cautions.map((one) => one.code)).not.toContain('power-outside-range');
});

test('guide, README and method page ask for the laps that the warnings ask for', () => {
  const page = (path: string) => readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');
  expect(GUIDE.match(/At least (\d+) laps a series/)?.[1]).toBe(String(LEAST_LAPS));
  expect(page('docs/methods/planning.md').match(/at least (\d+) a series/)?.[1]).toBe(
    String(LEAST_LAPS),
  );
  const words = ['one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight'];
  expect(page('README.md').match(/at least (\w+) laps a series/)?.[1]).toBe(words[LEAST_LAPS - 1]);
});
