import { existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { describe, expect, it, test } from 'vitest';
import { reportFigures } from '../../src/figures/reportFigures.js';
import { chromiumPath } from '../../src/notebook/chromiumPath.js';
import { drawFigures } from '../../src/notebook/drawFigures.js';
import { sharedTables } from '../../src/notebook/sharedTables.js';
import { exampleResult, exampleStudy } from '../report/exampleResult.js';
import { HOSTILE, hostileExample } from '../report/hostile.js';

const figures = reportFigures(exampleStudy(), exampleResult());
const found = chromiumPath();
const full = process.env.METERPAIR_FULL_CHECKS === '1';

describe.skipIf(found === null && !full)('drawFigures (skipped where Chromium is missing)', () => {
  it('draws every figure as an SVG of the stated width that carries its words', async () => {
    const { study, result } = hostileExample();
    const list = [...figures, ...reportFigures(study, result)];
    const pictures = await drawFigures(list, { format: 'svg', width: 680 });
    expect(pictures.map((one) => one.name)).toEqual(list.map((one) => `${one.id}.svg`));
    pictures.forEach((picture, i) => {
      const text = Buffer.from(picture.bytes).toString('utf8');
      expect(text).toMatch(/^<svg [^>]*width="680"[^>]*role="img"><title>/);
      expect(text).toContain(`height="${list[i].height}"`);
      expect(text).not.toContain(HOSTILE);
      expect(text).not.toMatch(/<script|<img|onerror="/i);
      // Axes, marks and words were drawn.
      expect(text.match(/<path/g)?.length ?? 0).toBeGreaterThan(10);
    });
  }, 120_000);

  it('draws PNG at the stated size and scale', async () => {
    const [picture] = await drawFigures(figures.slice(0, 1), {
      format: 'png',
      width: 500,
      scale: 3,
    });
    const bytes = Buffer.from(picture.bytes);
    // ISO/IEC 15948, 5.2 and 11.2.2: signature, then width and height in the first chunk.
    expect([...bytes.subarray(0, 8)]).toEqual([137, 80, 78, 71, 13, 10, 26, 10]);
    expect(bytes.readUInt32BE(16)).toBe(1500);
    expect(bytes.readUInt32BE(20)).toBe(3 * figures[0].height);
  }, 120_000);
});

test('says what it needs where Chromium is missing', async () => {
  await expect(drawFigures(figures, { format: 'svg', width: 680, chromium: null })).rejects.toThrow(
    /drawn by Chromium.*chromium on the PATH/,
  );
});

test('refuses a width that nothing can be read at', async () => {
  for (const width of [0, 100, 5000, Number.NaN]) {
    await expect(drawFigures(figures, { format: 'svg', width })).rejects.toThrow(/that wide/);
  }
});

test('says in its own words that a browser drew nothing', async () => {
  // `echo` answers as a browser would that draws nothing.
  const chromium = (process.env.PATH ?? '')
    .split(delimiter)
    .map((folder) => join(folder, 'echo'))
    .find(existsSync);
  await expect(
    drawFigures(figures.slice(0, 1), { format: 'svg', width: 680, chromium: chromium ?? '' }),
  ).rejects.toThrow(chromium === undefined ? /./ : /drew nothing/);
});

test('chromiumPath takes what the variable says, or nothing, and else looks on the PATH', () => {
  expect(chromiumPath({ CHROMIUM: process.execPath, PATH: '' })).toBe(process.execPath);
  expect(chromiumPath({ CHROMIUM: '/nowhere/chromium', PATH: process.env.PATH })).toBeNull();
  expect(chromiumPath({ PATH: '' })).toBeNull();
  expect(chromiumPath({})).toBeNull();
});

test('sharedTables gives one file a table that has rows, harmless and with the numbers shown', () => {
  const files = sharedTables(exampleStudy(), exampleResult());
  const names = files.map((one) => one.name);
  expect(names).toContain('factors.csv');
  expect(names).toContain('hazard.csv');
  expect(new Set(names).size).toBe(names.length);
  const { study, result } = hostileExample();
  const renamed = {
    ...result,
    hazard: result.hazard.map((one) => ({ ...one, source: '=HYPERLINK("x")' })),
  };
  const hazard = sharedTables(study, renamed).find((one) => one.name === 'hazard.csv');
  expect(hazard?.text).toContain(`"'=HYPERLINK(""x"")"`);
});
