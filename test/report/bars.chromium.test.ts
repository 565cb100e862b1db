/** What the report of the demo may take of a reader: pages, words, doubles, type, and who can read it. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { type BrowserContext, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runSheetPage } from '../../src/findings/runSheetPage.js';
import { runSheetText } from '../../src/plan/runSheetText.js';
import { ARGUMENTS, demoPages, FULL, onPath } from './inChromium.js';
import {
  everyFigureDrawn,
  figuresFit,
  overflow,
  scrolledCaptions,
  smallType,
  tablesOf,
  textBlocks,
  textFaults,
  turnedTicks,
  widthOfAnswer,
} from './inPage.js';

/** Width of the figure beside the answer on paper. */
const PAPER_BESIDE_PX = 248;

const NAMES = ['report', 'card', 'appendix'] as const;
type Name = (typeof NAMES)[number];

const browser = onPath('chromium', 'chromium-browser');
const poppler = onPath('pdftotext');
const missing = [browser === null ? 'Chromium' : '', poppler === null ? 'pdftotext' : ''].filter(
  (name) => name !== '',
);

if (missing.length > 0) {
  it(`${FULL ? 'needs' : 'not run here: missing is'} ${missing.join(', ')}`, () => {
    expect(FULL).toBe(false);
  });
} else {
  bars(browser ?? '');
}

function bars(executablePath: string): void {
  describe('the pages of the demo', () => {
    const folder = mkdtempSync(join(tmpdir(), 'meterpair-bars-'));
    const printed = new Map<Name, readonly string[]>();
    const open = new Map<Name, Page>();
    let context: BrowserContext;

    beforeAll(async () => {
      context = await chromium.launchPersistentContext(join(folder, 'profile'), {
        executablePath,
        headless: true,
        args: ARGUMENTS,
        // So that the checker of accessibility may run beside the page's own scripts.
        bypassCSP: true,
      });
      context.setDefaultTimeout(240_000);
      const pages = await demoPages();
      for (const name of NAMES) {
        writeFileSync(join(folder, `${name}.html`), pages[name]);
        const page = await context.newPage();
        await page.setViewportSize({ width: 1280, height: 900 });
        await page.goto(pathToFileURL(join(folder, `${name}.html`)).href);
        if (name !== 'card') await page.waitForFunction(everyFigureDrawn);
        const pdf = join(folder, `${name}.pdf`);
        writeFileSync(pdf, await page.pdf({ preferCSSPageSize: true, printBackground: true }));
        printed.set(name, pagesOf(pdf));
        open.set(name, page);
      }
    }, 300_000);

    afterAll(async () => {
      await context.close();
      rmSync(folder, { recursive: true, force: true });
    }, 60_000);

    const text = (name: Name) => printed.get(name) ?? [];
    const pageOf = (name: Name): Page => {
      const page = open.get(name);
      if (page === undefined) throw new Error(`no ${name}`);
      return page;
    };

    it('take at most 8 pages, 3,500 words, one sheet and 10 pages', () => {
      expect(text('report').length).toBeLessThanOrEqual(8);
      expect(words(text('report').join(' '))).toBeLessThanOrEqual(3500);
      expect(text('card')).toHaveLength(1);
      expect(text('appendix').length).toBeLessThanOrEqual(10);
      // So that the bar bites: the pages are there.
      expect(words(text('report').join(' '))).toBeGreaterThan(1000);
    });

    it('have the whole answer on page one', () => {
      const first = text('report')[0] ?? '';
      for (const part of [
        'The answer',
        'More hazardous than labelled',
        'Reasons for doubt',
        'The next step worth most',
        'with all else as it is',
      ]) {
        expect(first).toContain(part);
      }
      expect(first).not.toContain('Hazard of the sources');
    });

    it('carry their identification on every printed page, and a clear end', () => {
      for (const name of NAMES) {
        const all = text(name);
        all.forEach((page, i) => {
          expect(page).toMatch(/[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}/);
          expect(page).toContain(`Page ${i + 1} of ${all.length}`);
        });
      }
      expect(text('report').at(-1)).toContain('End of comparison report');
      expect(text('appendix').at(-1)).toContain('End of the appendix');
    });

    it('say no sentence of eight words twice, the appendix counted too', async () => {
      const blocks = [
        ...(await pageOf('report').evaluate(textBlocks)),
        ...(await pageOf('appendix').evaluate(textBlocks)),
      ];
      const sentences = blocks
        .flatMap((block) => block.split(/(?<=[.!?:])\s+/))
        .filter((one) => words(one) >= 8);
      expect(sentences.length).toBeGreaterThan(40);
      expect(sentences.filter((one, i) => sentences.indexOf(one) !== i)).toEqual([]);
    });

    it('print no type below 9 pt', async () => {
      for (const name of NAMES) {
        const page = pageOf(name);
        await page.emulateMedia({ media: 'print' });
        // 9 pt are 12 px of CSS.
        expect(await page.evaluate(smallType, 12)).toEqual([]);
        await page.emulateMedia({ media: 'screen' });
      }
    });

    it('part no table from its heading', async () => {
      for (const name of ['report', 'appendix'] as const) {
        const tables = await pageOf(name).evaluate(tablesOf);
        expect(tables.length).toBeGreaterThan(3);
        for (const { caption, first } of tables) {
          const together = text(name).some(
            (page) => page.includes(caption) && page.includes(first),
          );
          expect(together ? '' : `${caption} / ${first}`).toBe('');
        }
      }
    });

    it('show the whole caption of a table that scrolls sideways', async () => {
      for (const name of ['report', 'appendix'] as const) {
        const page = pageOf(name);
        await page.setViewportSize({ width: 390, height: 900 });
        const { captions, beyond } = await page.evaluate(scrolledCaptions);
        expect(captions).toBeGreaterThan(2);
        expect(beyond).toEqual([]);
      }
    });

    it('have no turned tick in the figure beside the answer', async () => {
      const page = pageOf('report');
      await page.setViewportSize({ width: 1280, height: 900 });
      expect(await page.evaluate(turnedTicks, PAPER_BESIDE_PX)).toEqual([]);
    });

    it('are joined by a run sheet whose series stand whole under their names, and that fits a phone', async () => {
      const laps = 8;
      const sources = ['violet module', 'green diode', 'red line'].map((name, i) => ({
        name,
        wavelength_nm: 405 + 100 * i,
      }));
      const file = join(folder, 'run-sheet');
      const sheet = runSheetText({ sources, laps, order: 'ABBA-BAAB' });
      writeFileSync(`${file}.html`, runSheetPage('A sheet', sheet));
      const page = await context.newPage();
      await page.setViewportSize({ width: 360, height: 740 });
      await page.goto(pathToFileURL(`${file}.html`).href);
      expect(await page.evaluate(overflow)).toEqual([]);
      writeFileSync(`${file}.pdf`, await page.pdf({ preferCSSPageSize: true }));
      const pages = pagesOf(`${file}.pdf`);
      for (const { name } of sources) {
        const own = pages.filter((one) => one.includes(`Series ${name}`));
        expect(own).toHaveLength(1);
        const after = own[0]?.split(`Series ${name}`)[1]?.split('Series ')[0] ?? '';
        expect(after.match(/reference|candidate/g)?.length).toBeGreaterThanOrEqual(2 * laps);
      }
      await page.close();
    });

    it.each([1280, 760, 400, 360])('keep to a window of %i px', async (width) => {
      for (const name of NAMES) {
        const page = pageOf(name);
        await page.setViewportSize({ width, height: 900 });
        await page.waitForFunction(figuresFit);
        expect(await page.evaluate(overflow)).toEqual([]);
        expect([name, await page.evaluate(textFaults)]).toEqual([name, []]);
      }
    });

    it.each([
      ['report', 400],
      ['report', 360],
      ['card', 360],
    ] as const)('show every verdict of the answer: %s, %i px', async (name, width) => {
      const page = pageOf(name);
      await page.setViewportSize({ width, height: 900 });
      // Nobody looks for what stands beyond an edge that scrolls.
      const { table, box } = await page.evaluate(widthOfAnswer);
      expect(table).toBeGreaterThan(0);
      expect(table).toBeLessThanOrEqual(box);
    });

    it.each([1280, 400])(
      'pass the checker of accessibility at %i px',
      async (width) => {
        const checker = readFileSync(
          new URL('../../node_modules/axe-core/axe.min.js', import.meta.url),
          'utf8',
        );
        for (const name of NAMES) {
          const page = pageOf(name);
          await page.setViewportSize({ width, height: 900 });
          await page.evaluate(checker);
          const found = await page.evaluate(
            'axe.run().then((all) => ({ passes: all.passes.length, violations: all.violations.map((one) => one.id + ": " + one.nodes.map((node) => node.target).join(", ")) }))',
          );
          expect(found).toMatchObject({ violations: [] });
          expect((found as { passes: number }).passes).toBeGreaterThan(10);
        }
      },
      120_000,
    );
  });
}

/** Text of each printed page, with single spaces. */
function pagesOf(pdf: string): readonly string[] {
  const run = spawnSync('pdftotext', ['-raw', pdf, '-'], { encoding: 'utf8' });
  if (run.status !== 0) throw new Error(run.stderr);
  return run.stdout
    .split('\f')
    .map((page) => page.replaceAll(/\s+/g, ' ').trim())
    .filter((page) => page !== '');
}

const words = (text: string): number => text.split(/\s+/).filter((word) => word !== '').length;
