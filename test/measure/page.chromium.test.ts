/**
 * A whole demo evening on the page, by keyboard alone, with the virtual bench as the two meters: wide
 * and narrow, with the program killed in the middle, with two tabs, with hostile names.
 */
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type BrowserContext, chromium, type FileChooser, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { localText } from '../../src/measure/page/filmTime.js';
import { parseStudy } from '../../src/record/parseStudy.js';
import { CHROMIUM_ARGUMENTS, onChromium } from '../chromium.js';
import { FACTORS, LAPS, SHEET, type Shown, STUDY, shownRuns, startOf } from './evening.js';
import { runsOf, studyFolder } from './folders.js';
import { contrasts, countTones, dueNow, recordFilm, says, sizes, tonesSet } from './inBenchPage.js';
import { play } from './playing.js';
import { type Program, started } from './program.js';

const READ_AT_S = 0.4;
const EVENING = shownRuns();
const QUICK = { ...STUDY, protocol: { ...STUDY.protocol, read_at_s: READ_AT_S } };

onChromium('the bench', inChromium);

function inChromium(path: string): void {
  describe('the bench in Chromium', () => {
    const profile = mkdtempSync(join(tmpdir(), 'meterpair-bench-page-'));
    const folders: string[] = [];
    const programs: Program[] = [];
    let context: BrowserContext;

    beforeAll(async () => {
      context = await chromium.launchPersistentContext(profile, {
        executablePath: path,
        headless: true,
        args: [...CHROMIUM_ARGUMENTS, '--autoplay-policy=no-user-gesture-required'],
      });
      context.setDefaultTimeout(30_000);
    }, 120_000);

    afterAll(async () => {
      for (const { child } of programs) child.kill('SIGKILL');
      await context.close();
      for (const folder of [profile, ...folders]) rmSync(folder, { recursive: true, force: true });
    }, 60_000);

    async function folderWith(study: unknown = QUICK, runs = SHEET): Promise<string> {
      const folder = studyFolder(runs, study);
      folders.push(folder);
      return folder;
    }

    async function start(folder: string): Promise<Program> {
      const program = await started(folder);
      programs.push(program);
      return program;
    }

    async function open(address: string, width: number) {
      const page = await context.newPage();
      await page.setViewportSize({ width, height: width < 500 ? 740 : 800 });
      const seen: string[] = [];
      page.on('console', (message) => seen.push(`${message.type()}: ${message.text()}`));
      page.on('pageerror', (error) => seen.push(`error: ${error.message}`));
      page.on('request', (request) => {
        if (!request.url().startsWith(address) && !request.url().startsWith('data:')) {
          seen.push(`request: ${request.url()}`);
        }
      });
      await page.addInitScript(countTones);
      await page.goto(address);
      await stage(page, (now) => now !== 'wait');
      return { page, seen };
    }

    it.each([1280, 360])(
      'plays an evening at %i px',
      async (width) => {
        const folder = await folderWith();
        let { address, child } = await start(folder);
        let { page, seen } = await open(address, width);
        const wrong = async () => {
          const { digits, clock, over, covered } = await page.evaluate(sizes);
          const faint = (await page.evaluate(contrasts)).filter(
            ({ contrast, grey }) => contrast < 7 || !grey,
          );
          // 12 mm at two metres are 20 minutes of arc: 44 px of a screen with 96 px an inch.
          const small = [digits, clock].filter((height) => height !== null && height < 44);
          return { over, faint, small, covered };
        };
        const fine = { over: 0, faint: [], small: [], covered: false };

        await stage(page, 'cautions');
        expect(await words(page, '.task')).toContain('Never look into the beam');
        expect(await wrong()).toEqual(fine);
        // No key but the one that says so leads past the cautions.
        for (const key of ['Enter', 'Space', 't', 'Escape', '7']) await page.keyboard.press(key);
        expect(await page.getAttribute('.task', 'data-stage')).toBe('cautions');
        await page.keyboard.press('u');
        await stage(page, 'before');
        await page.keyboard.press('Enter');

        // The wavelength is asked for once a meter.
        await stage(page, 'setting');
        expect(await wrong()).toEqual(fine);
        await page.keyboard.press('Enter');
        await stage(page, 'zero');
        for (const run of EVENING.slice(0, 5)) await playRun(page, run);
        expect(await words(page, 'header')).toContain('its label says 5 mW');
        expect(await words(page, 'aside')).toContain('stay hidden until the series is closed');
        expect(await wrong()).toEqual(fine);

        // Killed while a reading is typed: that one is lost, the page says so, nothing else is.
        await typed(page, EVENING[5]!.zero, 'beam');
        await page.keyboard.press('Space');
        await due(page);
        await page.keyboard.type(EVENING[5]!.reading);
        child.kill('SIGKILL');
        await page.waitForSelector('.lost');
        expect(await words(page, '.lost')).toContain('not on disk');
        expect(seen.filter((line) => !line.includes('ERR_CONNECTION_REFUSED'))).toEqual([]);
        await page.close();
        ({ address, child } = await start(folder));
        ({ page, seen } = await open(address, width));
        await page.keyboard.press('u');
        await stage(page, 'zero');
        expect(await words(page, 'aside')).toContain(`row 6, candidate, ${EVENING[4]!.reading}`);

        // A slip of the pen is asked about, and mended while the display is at hand.
        await playRun(
          page,
          { ...EVENING[5]!, reading: slipped(EVENING[5]!.reading), peak: '' },
          false,
        );
        await stage(page, 'question');
        expect(await words(page, '.do')).toContain('type the reading again');
        expect(await wrong()).toEqual(fine);
        await typed(page, EVENING[5]!.reading, 'zero');

        // Two tabs: the other one moves on by itself, and what was typed there is not written.
        const other = await open(address, width);
        await other.page.keyboard.press('u');
        await stage(other.page, 'zero');
        await typed(other.page, '0.1', 'beam');
        await page.bringToFront();
        await playRun(page, EVENING[6]!);
        await other.page.waitForFunction(says, 'filled from elsewhere');
        expect(other.seen).toEqual([]);
        await other.page.close();

        // A run is taken back by a reason, and the series ends with its planned laps.
        await page.keyboard.press('t');
        await stage(page, 'take-back');
        expect(await wrong()).toEqual(fine);
        await page.keyboard.press('ArrowDown');
        await page.keyboard.press('Enter');
        await page.keyboard.press('2');
        await stage(page, 'zero');
        await playRun(page, EVENING[7]!, false);
        await stage(page, 'close');
        const closing = await words(page, 'main');
        expect(closing).toContain('will be known to');
        expect(closing).not.toMatch(/K = /);
        expect(await wrong()).toEqual(fine);
        await page.keyboard.press('Enter');
        expect(await page.getAttribute('.task', 'data-stage')).toBe('close');
        await page.keyboard.press('c');
        await stage(page, 'cautions');
        expect(await words(page, '.task')).toMatch(/K = 1\.1\d/);
        expect(await words(page, '.task')).toContain('invisible');
        await page.keyboard.press('u');
        await page.keyboard.press('Enter');
        await page.keyboard.press('Enter');
        for (const run of EVENING.slice(8)) await playRun(page, run, false);
        await stage(page, 'close');
        await page.keyboard.press('c');
        await stage(page, 'compare');
        expect(await wrong()).toEqual(fine);
        expect(seen).toEqual([]);

        const study = parseStudy(QUICK, { runs: runsOf(folder) });
        expect(study.series.map(({ runs }) => runs.length)).toEqual([2 * LAPS, 2 * LAPS]);
        const kept = study.series.flatMap(({ runs }) => runs);
        kept.forEach((run, i) => {
          const shown = Number(EVENING[i]!.reading) - Number(EVENING[i]!.zero);
          expect(run.reading_mW).toBeCloseTo(shown, 6);
        });
        expect(
          kept.filter(({ exclude }) => exclude !== null).map(({ row, exclude }) => [row, exclude]),
        ).toEqual([[7, 'knocked head']]);

        if (width !== 1280) return;
        await page.keyboard.press('Enter');
        await page.waitForFunction(says, 'ompar(ed|ison stopped).', {
          timeout: 240_000,
        });
        expect(await words(page, 'main')).toContain('Compared.');
        const result = JSON.parse(readFileSync(join(folder, 'report', 'result.json'), 'utf8'));
        expect(existsSync(join(folder, 'report', 'report.html'))).toBe(true);
        FACTORS.forEach((factor, i) => {
          expect(Math.abs(result.wavelengths[i].factor / factor - 1)).toBeLessThan(0.01);
        });
      },
      400_000,
    );

    it('sets tones before and at the reading time, and takes no reading before it', async () => {
      const slow = { ...QUICK, protocol: { ...QUICK.protocol, read_at_s: 600 } };
      const folder = await folderWith(slow);
      const { address } = await start(folder);
      const { page, seen } = await open(address, 360);
      for (const key of ['u', 'Enter', 'Enter', 'Enter', 'Space']) {
        const before = await page.getAttribute('.task', 'data-stage');
        await page.keyboard.press(key);
        await stage(page, (now) => now !== before);
      }
      const tones = await page.evaluate(tonesSet);
      expect(tones.map(({ hertz }) => hertz)).toEqual([440, 440, 440, 880]);
      const last = tones.at(-1)!.in_s;
      expect(tones.map(({ in_s }) => Math.round(last - in_s))).toEqual([3, 2, 1, 0]);
      expect(Math.abs(last - 600)).toBeLessThan(1);
      await page.keyboard.type('46.2');
      await page.keyboard.press('Enter');
      await page.waitForSelector('.message');
      expect(await words(page, '.message')).toContain('Too early');
      expect(await words(page, '.clock')).toMatch(/^in (?:5\d\d|600) s$/);
      const { over, digits, clock } = await page.evaluate(sizes);
      expect([over, digits! >= 44, clock! >= 44]).toEqual([0, true, true]);
      await page.keyboard.press('Escape');
      await stage(page, 'setting');
      expect(runsOf(folder)).toBe(SHEET);
      expect(seen).toEqual([]);
      await page.close();
    }, 60_000);

    // The browser records in real time: on a busy machine that may fail once.
    const recorded = { timeout: 120_000, retry: 2 };
    it('reads a film by the keys, and it stays in the browser', recorded, async () => {
      const folder = await folderWith(QUICK, play(SHEET, EVENING.slice(0, 3), QUICK));
      const { address } = await start(folder);
      const { page, seen } = await open(address, 1280);
      const film = Buffer.from(await page.evaluate(recordFilm));
      await page.keyboard.press('u');
      await stage(page, 'zero');
      await page.keyboard.press('f');
      await stage(page, 'film');
      const chooser = await fileDialog(page);
      await chooser.setFiles({ name: 'display.webm', mimeType: 'video/webm', buffer: film });
      await page.waitForFunction(says, 'marks the first lit frame');
      // Nothing is written before time zero is marked.
      await page.keyboard.press('ArrowUp');
      await page.waitForFunction(says, '1\\.00.s of display\\.webm');
      await page.keyboard.press('l');
      for (const reading of ['0.4', '45', '60.1']) {
        await page.keyboard.type(reading);
        await page.keyboard.press('Enter');
        await page.waitForFunction(says, reading);
        await page.keyboard.press('ArrowUp');
        await page.waitForFunction(
          says,
          `${['0.4', '45', '60.1'].indexOf(reading) + 1}\\.00.s after`,
        );
      }
      const { faint, over } = {
        faint: (await page.evaluate(contrasts)).filter(({ contrast }) => contrast < 7),
        over: (await page.evaluate(sizes)).over,
      };
      expect([faint, over]).toEqual([[], 0]);
      await page.keyboard.press('w');
      await stage(page, 'zero');
      const traces = readFileSync(join(folder, 'traces.csv'), 'utf8');
      expect(traces.split('\n').slice(1, 4)).toEqual([
        'green bench diode,3,candidate,0,0.4',
        'green bench diode,3,candidate,1,45',
        'green bench diode,3,candidate,2,60.1',
      ]);

      // The same film goes on with the next run: the number at the reading time is its reading.
      await page.keyboard.press('f');
      await page.waitForFunction(says, 'run 4, reference.*Not written yet: the number at 0\\.4.s');
      await page.keyboard.press('w');
      await page.waitForFunction(says, 'first lit frame is not marked');
      await page.keyboard.press('l');
      await page.waitForFunction(says, '0\\.00.s after');
      await page.keyboard.press('ArrowDown');
      await page.waitForFunction(says, '−1\\.00.s after');
      const { zero, reading } = EVENING[3]!;
      await typed(page, zero, 'film');
      await page.keyboard.press('g');
      await page.waitForFunction(says, '0\\.40.s after');
      await page.keyboard.press('w');
      await page.waitForFunction(says, 'No number is typed at 0\\.4.s');
      await typed(page, reading, 'film');
      await page.keyboard.press('w');
      await page.waitForFunction(says, 'When did the beam go on');
      expect((await page.evaluate(sizes)).over).toBe(0);
      await page.keyboard.type('-');
      await page.keyboard.press('Enter');
      await page.waitForFunction(says, 'cannot stand beside them');
      await page.keyboard.press('Backspace');
      await typed(page, localText(startOf(3)), 'peak');
      await page.keyboard.press('Enter');
      await stage(page, 'zero');
      const run = parseStudy(QUICK, { runs: runsOf(folder) }).series[0]!.runs[3]!;
      expect(run).toMatchObject({ meter: 'reference', time_s: 3 * 45, zero_mW: Number(zero) });
      expect(run.reading_mW).toBeCloseTo(Number(reading) - Number(zero), 9);
      expect(seen.filter((line) => !line.startsWith('request: blob:'))).toEqual([]);
      await page.close();
    });

    it('shows hostile names as names', async () => {
      const name = '<img src=x onerror="document.title=1">‮ & "q"';
      const study = {
        ...QUICK,
        title: name,
        reference: { ...QUICK.reference, name },
        sources: [{ name, wavelength_nm: 520 }],
      };
      const runs = `source,meter,reading_mW\n"${name.replaceAll('"', '""')}",reference,\n"${name.replaceAll('"', '""')}",candidate,\n`;
      const { address } = await start(await folderWith(study, runs));
      const { page, seen } = await open(address, 360);
      expect(await words(page, 'h1')).toBe(name);
      await page.keyboard.press('u');
      await page.keyboard.press('Enter');
      await stage(page, 'setting');
      expect(await words(page, '.meter')).toContain('<img src=x');
      expect(await page.locator('img').count()).toBe(0);
      expect((await page.evaluate(sizes)).over).toBe(0);
      expect(seen).toEqual([]);
      await page.close();
    }, 60_000);
  });
}

/** Waits for a question on the page. */
async function stage(page: Page, wanted: string | ((now: string) => boolean)): Promise<void> {
  for (let attempt = 0; ; attempt += 1) {
    const now = (await page.getAttribute('.task', 'data-stage')) ?? '';
    if (typeof wanted === 'string' ? now === wanted : wanted(now)) return;
    if (attempt > 600) throw new Error(`The page asks "${now}": ${await words(page, 'body')}`);
    await page.waitForTimeout(50);
  }
}

/** The dialog that O opens; the browser opens it only for a key that it takes for a hand's. */
async function fileDialog(page: Page): Promise<FileChooser> {
  for (let attempt = 1; ; attempt += 1) {
    const choosing = page.waitForEvent('filechooser', { timeout: 3000 }).catch(() => null);
    await page.keyboard.press('o');
    const chooser = await choosing;
    if (chooser !== null) return chooser;
    if (attempt === 5) throw new Error('O opens no dialog.');
  }
}

const words = async (page: Page, selector: string): Promise<string> =>
  ((await page.textContent(selector)) ?? '').replaceAll('\u00a0', ' ');

async function typed(page: Page, text: string, next: string): Promise<void> {
  await page.keyboard.type(text);
  await page.keyboard.press('Enter');
  await stage(page, next);
}

/** Until the reading is due. */
async function due(page: Page): Promise<void> {
  await page.waitForFunction(dueNow);
}

/** One run as somebody at the bench types it. */
async function playRun(page: Page, run: Shown, on = true): Promise<void> {
  await stage(page, (now) => now === 'zero' || now === 'setting');
  const meter = await words(page, '.meter');
  expect(meter.toLowerCase()).toContain(run.meter);
  await typed(page, run.zero, 'beam');
  await page.keyboard.press('Space');
  await due(page);
  await typed(page, run.reading, 'peak');
  await page.keyboard.type(run.peak);
  await page.keyboard.press('Enter');
  await stage(page, (now) => now !== 'peak' && now !== 'send');
  if (on) await stage(page, 'zero');
}

/** The decimal point left out. */
const slipped = (reading: string): string => reading.replace('.', '');
