/** The report in a real browser. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { type BrowserContext, chromium } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { appendixFigures, reportFigures } from '../../src/figures/reportFigures.js';
import { reportPage } from '../../src/report/reportPage.js';
import { CHROMIUM_ARGUMENTS, onChromium } from '../chromium.js';
import { exampleFactors, exampleResult, exampleStudy } from './exampleResult.js';
import { type Example, emptyExample, hostileExample } from './hostile.js';
import { library } from './inChromium.js';
import {
  everyFigureDrawn,
  hacked,
  notePrintedWidths,
  overflow,
  printedWidths,
  textFaults,
} from './inPage.js';

onChromium('the report', inChromium);

interface Seen {
  readonly console: string[];
  readonly requests: string[];
}

function inChromium(path: string): void {
  describe('the report in Chromium', () => {
    const folder = mkdtempSync(join(tmpdir(), 'meterpair-page-'));
    let context: BrowserContext;

    beforeAll(async () => {
      context = await chromium.launchPersistentContext(join(folder, 'profile'), {
        executablePath: path,
        headless: true,
        args: CHROMIUM_ARGUMENTS,
      });
      context.setDefaultTimeout(120_000);
    }, 120_000);

    afterAll(async () => {
      await context.close();
      rmSync(folder, { recursive: true, force: true });
    }, 60_000);

    async function open(name: string, example: Example, width: number) {
      const file = join(folder, `${name}.html`);
      writeFileSync(file, pageOf(example));
      const page = await context.newPage();
      await page.setViewportSize({ width, height: 900 });
      const seen: Seen = { console: [], requests: [] };
      page.on('console', (message) => seen.console.push(`${message.type()}: ${message.text()}`));
      page.on('pageerror', (error) => seen.console.push(`error: ${error.message}`));
      page.on('request', (request) => seen.requests.push(request.url()));
      await page.goto(pathToFileURL(file).href);
      await page.waitForFunction(everyFigureDrawn);
      return { page, seen };
    }

    const usual = (): Example => ({
      study: exampleStudy(),
      result: exampleResult(),
      factors: exampleFactors(),
    });

    it.each([1280, 360])(
      'draws all figures at %i px, quietly, alone and without overflow',
      async (width) => {
        const { page, seen } = await open(`usual-${width}`, usual(), width);
        expect(seen.console).toEqual([]);
        expect(outside(seen)).toEqual([]);
        expect(await page.evaluate(overflow)).toEqual([]);
        expect(await page.evaluate(textFaults)).toEqual([]);
        expect(await page.locator('figure .plot .main-svg').count()).toBeGreaterThan(2);
        await page.close();
      },
      180_000,
    );

    it('runs nothing that a data file brings along', async () => {
      const { page, seen } = await open('hostile', hostileExample(), 360);
      expect(await page.evaluate(hacked)).toBe(false);
      expect(seen.console).toEqual([]);
      expect(outside(seen)).toEqual([]);
      expect(await page.locator('img').count()).toBe(0);
      expect(await page.evaluate(overflow)).toEqual([]);
      await page.close();
    }, 180_000);

    it('opens with everything missing', async () => {
      const { page, seen } = await open('empty', emptyExample(), 360);
      expect(seen.console).toEqual([]);
      expect(await page.locator('#answer').textContent()).toContain('this data cannot tell you');
      expect(await page.evaluate(overflow)).toEqual([]);
      await page.close();
    }, 180_000);

    it('prints on A4 with the figures inside the page', async () => {
      const { page } = await open('print', usual(), 1280);
      await page.evaluate(notePrintedWidths);
      const pdf = await page.pdf({ preferCSSPageSize: true });
      expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
      // ISO 216: A4 is 210 mm wide; less two margins of 14 mm, at 96 px an inch, 687 px are left.
      const widths = await page.evaluate(printedWidths);
      expect(widths.length).toBeGreaterThan(2);
      for (const width of widths) expect(width).toBeLessThanOrEqual(687);
      await page.close();
    }, 180_000);
  });
}

function pageOf({ study, result, factors }: Example): string {
  return reportPage({
    study,
    result,
    factors,
    figures: [...reportFigures(study, result), ...appendixFigures(study, result)],
    plotlyBundle: library(),
    versions: { meterpair: '0.1.0' },
  });
}

function outside(seen: Seen): readonly string[] {
  return seen.requests.filter((url) => !/^(file|data|blob):/.test(url));
}
