/** Notebooks as people open them: Jupyter Notebook in a browser, every cell run, and a question answered. */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync, symlinkSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CHROMIUM_ARGUMENTS, onChromium } from '../chromium.js';
import { answerTo, kernelIsThere, notYetRun, runAll, shownBy } from './inJupyter.js';
import { root } from './notebookRun.js';

const TOKEN = 'a-token-of-this-test';
const JUPYTER = 'jupyter';

onChromium('notebooks', (path) => {
  if (spawnSync(JUPYTER, ['notebook', '--version']).status === 0) inJupyter(path);
  else {
    it('not run here: Jupyter Notebook is missing', () => {
      console.warn('Notebooks were not opened in Jupyter, because it is not on the PATH.');
      expect(process.env.METERPAIR_FULL_CHECKS).not.toBe('1');
    });
  }
});

function inJupyter(executablePath: string): void {
  describe('in Jupyter', () => {
    let folder: string;
    let port: number;
    let jupyter: ChildProcess;
    let browser: Browser;

    beforeAll(async () => {
      folder = copyOfNotebooks();
      port = await freePort();
      jupyter = await startJupyter(join(folder, 'notebooks'), port);
      browser = await chromium.launch({ executablePath, args: CHROMIUM_ARGUMENTS });
    }, 180_000);

    afterAll(async () => {
      await browser.close();
      jupyter.kill('SIGTERM');
      await new Promise((done) => jupyter.once('exit', done));
      rmSync(folder, { recursive: true, force: true });
    }, 60_000);

    async function open(name: string): Promise<{ page: Page; wrong: string[] }> {
      const page = await browser.newPage({ viewport: { width: 1200, height: 900 } });
      const wrong: string[] = [];
      page.on('pageerror', (error) => wrong.push(error.message));
      page.on('console', (message) => {
        if (message.type() === 'error') wrong.push(message.text());
      });
      // Jupyter asks for an extension that Debian does not bring; that is no fault of a notebook.
      await page.route('**/nbextensions/widgets/**', (route) =>
        route.fulfill({
          contentType: 'text/javascript',
          body: 'define([], () => ({ load_ipython_extension() {} }));',
        }),
      );
      await page.goto(`http://127.0.0.1:${port}/notebooks/${name}?token=${TOKEN}`);
      await page.waitForFunction(kernelIsThere, null, { timeout: 60_000 });
      return { page, wrong };
    }

    async function run(page: Page): Promise<void> {
      await page.evaluate(runAll);
      await page.waitForFunction(notYetRun, 0, { timeout: 240_000 });
    }

    it('2-compare runs from top to bottom, and every figure is drawn', async () => {
      const { page, wrong } = await open('2-compare.ipynb');
      await run(page);
      const { places, figures, errors } = await drawn(page);
      expect(places).toBeGreaterThan(3);
      expect(figures).toBe(places);
      expect([errors, wrong]).toEqual([[], []]);
      await page.close();
    }, 400_000);

    it('a lesson runs, and its question is answered wrong and then right', async () => {
      const { page, wrong } = await open('lessons/1-a-reading-is-not-the-truth.ipynb');
      await run(page);
      const { places, figures, errors } = await drawn(page);
      expect([places, figures]).toEqual([1, 1]);
      expect(await page.evaluate(answerTo)).toMatch(/^No answer yet/);
      // 0.1 mW of 0.8 mW: the whole step, in the place of its standard uncertainty.
      await answer(page, '', '12,5 %');
      expect(await page.evaluate(answerTo)).toBe('Not yet: that is the whole step.');
      await answer(page, '12,5 %', '3,61 %');
      expect(await page.evaluate(answerTo)).toMatch(/^Right: 3,61 %; the power may lie anywhere/);
      expect([errors, wrong]).toEqual([[], []]);
      await page.close();
    }, 400_000);
  });
}

/** Figures once all are drawn, and what went wrong in cells. */
async function drawn(page: Page): Promise<ReturnType<typeof shownBy>> {
  for (let attempt = 0; ; attempt += 1) {
    const shown = await page.evaluate(shownBy);
    if (shown.figures === shown.places || attempt > 100) return shown;
    await page.waitForTimeout(100);
  }
}

/** Types into the cell and runs it, as a hand does. */
async function answer(page: Page, before: string, text: string): Promise<void> {
  const cell = page.locator('.code_cell', { hasText: `answer('${before}')` }).last();
  await cell.locator('.CodeMirror').click();
  await page.keyboard.press('Control+a');
  await page.keyboard.type(`answer('${text}');`);
  await page.keyboard.press('Shift+Enter');
  await page.waitForFunction(notYetRun, 0, { timeout: 60_000 });
}

/** Beside node_modules, because the package is found from there; Jupyter saves into what it opens. */
function copyOfNotebooks(): string {
  mkdirSync(join(root, 'tmp'), { recursive: true });
  const folder = mkdtempSync(join(root, 'tmp', 'jupyter-'));
  cpSync(join(root, 'notebooks'), join(folder, 'notebooks'), { recursive: true });
  symlinkSync(join(root, 'data-demo'), join(folder, 'data-demo'));
  return folder;
}

async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  const address = server.address();
  await new Promise((done) => server.close(done));
  if (address === null || typeof address === 'string') throw new Error('No port.');
  return address.port;
}

async function startJupyter(folder: string, port: number): Promise<ChildProcess> {
  const prepared = spawnSync(process.execPath, [
    join(root, 'scripts', 'notebooks.mjs'),
    '--prepare',
  ]);
  if (prepared.status !== 0) throw new Error(String(prepared.stderr));
  const options = ['--no-browser', '--allow-root', '--ip=127.0.0.1', `--port=${port}`];
  const started = spawn(
    JUPYTER,
    ['notebook', folder, ...options, '--port-retries=0', `--NotebookApp.token=${TOKEN}`],
    {
      env: { ...process.env, JUPYTER_PATH: join(root, 'dist', 'jupyter') },
      stdio: ['ignore', 'ignore', 'pipe'],
    },
  );
  let said = '';
  await new Promise<void>((done, fail) => {
    started.stderr.on('data', (part) => {
      said += part;
      if (said.includes(`127.0.0.1:${port}/?token`)) done();
    });
    started.once('exit', () => fail(new Error(said)));
  });
  return started;
}
