import { existsSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';
import { expect, test } from 'vitest';
import { bundleHtml, figureHtml, packedBundle } from '../../src/notebook/figureHtml.js';

const browser = (process.env.PATH ?? '')
  .split(delimiter)
  .map((folder) => join(folder, 'chromium'))
  .find((path) => existsSync(path));

/** Under this variable a missing browser is a failure and not "not run here". */
const full = process.env.METERPAIR_FULL_CHECKS === '1';

const figure = (title: string) => ({
  data: [{ type: 'scatter', x: [1, 2, 3], y: [1, 4, 9] }],
  layout: { title: { text: title }, height: 300 },
  title,
  alt: 'three points',
});

test.skipIf(browser === undefined && !full)(
  'figures draw in a page with require.js on it, as classic Notebook and nbconvert have it, and twice if shown twice',
  async () => {
    const page = join(mkdtempSync(join(tmpdir(), 'meterpair-test-')), 'page.html');
    // What require.js puts on a page: an AMD `define` that a UMD bundle would fall for.
    const amd = 'window.define = Object.assign(function () { window.caught = 1; }, { amd: {} });';
    const figures = ['first', 'second', 'first'].map((title) => figureHtml(figure(title)));
    writeFileSync(
      page,
      `<meta charset="utf-8"><script>${amd}</script>${bundleHtml(packedBundle())}${figures.join('')}`,
    );
    const started = await chromium.launch({
      ...(browser === undefined ? {} : { executablePath: browser }),
      args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run'],
    });
    try {
      const context = await started.newContext({ offline: true });
      const view = await context.newPage();
      const errors: string[] = [];
      view.on('pageerror', (error) => errors.push(error.message));
      await view.goto(pathToFileURL(page).href);
      await view.waitForSelector('.js-plotly-plot .gtitle');
      const titles = await view.locator('.js-plotly-plot .gtitle').allTextContents();
      expect(titles).toEqual(['first', 'second', 'first']);
      expect(await view.evaluate('window.caught')).toBeUndefined();
      expect(errors).toEqual([]);
    } finally {
      await started.close();
    }
  },
  60_000,
);
