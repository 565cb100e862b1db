/**
 * Every figure in a real browser, as wide as a page and as narrow as a phone. Where Chromium is missing
 * the test says so; with METERPAIR_FULL_CHECKS=1 a missing Chromium is a failure.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { type Browser, chromium } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { analyse } from '../../src/analyse.js';
import {
  appendixFigures,
  type ListedFigure,
  reportFigures,
} from '../../src/figures/reportFigures.js';
import { escapeHtml } from '../../src/findings/escape.js';
import { chromiumPath } from '../../src/notebook/chromiumPath.js';
import { bundleHtml, figureHtml, packedBundle } from '../../src/notebook/figureHtml.js';
import { readStudy } from '../../src/record/readStudy.js';
import { hostileExample } from '../report/hostile.js';
import { everyFigureDrawn, textFaults } from '../report/inPage.js';

const found = chromiumPath();
const full = process.env.METERPAIR_FULL_CHECKS === '1';

const demo = (name: string) => fileURLToPath(new URL(`../../data-demo/${name}`, import.meta.url));

async function figuresOf(name: string): Promise<readonly ListedFigure[]> {
  if (name === 'hostile') {
    const { study, result } = hostileExample();
    return listed(study, result);
  }
  const study = await readStudy(demo(name));
  return listed(study, analyse(study));
}

const listed = (...[study, result]: Parameters<typeof reportFigures>) => [
  ...reportFigures(study, result),
  ...appendixFigures(study, result),
];

const STUDIES = [
  '1-workshop-evening',
  '4-second-opinion',
  '6-green-leak',
  '7-slip-of-the-pen',
  'hostile',
];

describe.skipIf(found === null && !full)(
  'figures in Chromium (skipped where it is missing)',
  () => {
    const folder = mkdtempSync(join(tmpdir(), 'meterpair-drawing-'));
    let browser: Browser;

    beforeAll(async () => {
      if (found === null) throw new Error('METERPAIR_FULL_CHECKS=1 asks for Chromium on the PATH.');
      browser = await chromium.launch({
        executablePath: found,
        args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run'],
      });
    }, 60_000);

    afterAll(async () => {
      await browser?.close();
      rmSync(folder, { recursive: true, force: true, maxRetries: 5 });
    });

    it.each(STUDIES.flatMap((name) => [360, 1200].map((width) => [name, width] as const)))(
      '%s at %i px: quiet, nothing over another, nothing cut off',
      async (name, width) => {
        const figures = await figuresOf(name);
        const file = join(folder, `${name}-${width}.html`);
        const places = figures.map(
          ({ id, figure, height }) =>
            `<div class="plot" id="${escapeHtml(id)}" style="height:${height}px">${figureHtml(figure)}</div>`,
        );
        writeFileSync(
          file,
          `<!doctype html><meta charset="utf-8"><body style="margin:0">${bundleHtml(packedBundle())}${places.join('')}`,
        );
        const page = await browser.newPage({ viewport: { width, height: 900 } });
        const said: string[] = [];
        page.on('console', (message) => said.push(`${message.type()}: ${message.text()}`));
        page.on('pageerror', (error) => said.push(error.message));
        await page.goto(pathToFileURL(file).href);
        await page.waitForFunction(everyFigureDrawn);
        expect(said).toEqual([]);
        expect(await page.evaluate(textFaults)).toEqual([]);
        await page.close();
      },
      120_000,
    );
  },
);
