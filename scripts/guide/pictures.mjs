// The pictures of the guide: sheet, bench page, card, report, each as a browser shows it.
import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { dispatch } from '../../dist/inside.js';
import { startChromium } from '../pages/chromium.mjs';
import { smallPng } from '../pages/smallPng.mjs';
import { ANSWERS, FOLDER, KNOCKED, LAPS, playEvening, SHOWN, startOf } from './evening.mjs';

const PROGRAM = fileURLToPath(new URL('../../dist/commands/main.js', import.meta.url));
const MOST_BYTES = 80 * 1024;
/** An ordinary screen, drawn at two thirds of its size. */
const BENCH = { viewport: { width: 1280, height: 800 }, deviceScaleFactor: 0.65 };
const GREEN = 2 * LAPS;

/** What is pictured: after how many runs the bench page is opened, and what is then done on it. */
const BENCH_PICTURES = [
  { name: 'bench-cautions', runs: 0, act: async () => undefined },
  { name: 'bench-clock', runs: 3, act: (page) => lit(page, 3, 19_000) },
  { name: 'bench-entry', runs: 3, act: (page) => typed(page, 3, SHOWN[3].reading) },
  {
    name: 'bench-question',
    runs: 3,
    act: async (page) => {
      await typed(page, 3, SHOWN[3].reading.replace('.', ''));
      await enter(page, 'peak');
      await page.keyboard.type(SHOWN[3].peak);
      await enter(page, 'question');
    },
  },
  {
    name: 'bench-take-back',
    runs: KNOCKED,
    act: async (page) => {
      await typed(page, KNOCKED, SHOWN[KNOCKED].reading);
      await enter(page, 'peak');
      await page.keyboard.type(SHOWN[KNOCKED].peak);
      await enter(page, 'zero');
      await press(page, 't', 'take-back');
    },
  },
  { name: 'bench-close', runs: GREEN, act: async () => undefined },
  {
    name: 'bench-closed',
    runs: GREEN,
    act: (page) => press(page, 'c', 'cautions'),
  },
];

/**
 * @param {string} from folder in which the evening was played: its plan and its report
 * @param {string} out where the pictures go
 * @param {readonly string[]} names of those wanted; none: all
 */
export async function takePictures(from, out, names) {
  mkdirSync(out, { recursive: true });
  const wanted = (name) => names.length === 0 || names.includes(name);
  const browser = await startChromium();
  const keep = (name, png) => {
    const bytes = smallPng(png);
    writeFileSync(join(out, `${name}.png`), bytes);
    console.log(`docs/figures/guide/${name}.png: ${Math.ceil(bytes.length / 1024)} KB`);
    if (bytes.length > MOST_BYTES) throw new Error(`${name}.png is larger than it may be.`);
  };
  try {
    for (const { name, runs, act } of BENCH_PICTURES) {
      if (wanted(name)) keep(name, await benchPicture(browser, from, runs, act));
    }
    for (const one of PAPER_PICTURES) {
      if (wanted(one.name)) keep(one.name, await paper(browser, join(from, FOLDER), one));
    }
  } finally {
    await browser.close();
  }
}

/** Sheets, each of so many px; `scale` draws them smaller, `part` is a figure by its words. */
const PAPER_PICTURES = [
  { name: 'run-sheet', file: 'run-sheet.html', width: 800, height: 1120, scale: 0.75 },
  { name: 'report', file: 'report/report.html', width: 960, height: 985, scale: 0.8 },
  {
    name: 'hazard',
    file: 'report/report.html',
    width: 960,
    height: 985,
    scale: 0.8,
    part: 'How much each source',
  },
  { name: 'card', file: 'report/card.html', width: 820, height: 400, scale: 1 },
];

async function paper(browser, folder, { file, width, height, scale, part }) {
  const page = await browser.newPage({ viewport: { width, height }, deviceScaleFactor: scale });
  await page.goto(pathToFileURL(join(folder, file)).href);
  await page.waitForTimeout(1000);
  const shown = part === undefined ? page : page.locator('figure', { hasText: part });
  const png = await shown.screenshot();
  await page.close();
  return png;
}

/** The page of a bench where so many runs are taken, its clock at the moment at which the next begins. */
async function benchPicture(browser, from, runs, act) {
  const folder = join(mkdtempSync(join(from, 'bench-')), FOLDER);
  const io = { from: join(folder, '..'), columns: null, onStop: () => () => undefined };
  const hush = () => undefined;
  let asked = -1;
  const ask = async () => {
    asked += 1;
    return ANSWERS[asked] ?? '';
  };
  await dispatch(['plan', FOLDER], { ...io, out: hush, err: hush, ask });
  playEvening(folder, runs);
  const { child, address } = await started(folder);
  const context = await browser.newContext({ ...BENCH, timezoneId: 'UTC' });
  try {
    const page = await context.newPage();
    page.setDefaultTimeout(20_000);
    await page.clock.install({ time: startOf(runs) });
    await page.goto(address);
    await page.waitForFunction(
      () => (document.querySelector('.task')?.dataset.stage ?? 'wait') !== 'wait',
    );
    await act(page);
    await page.waitForTimeout(300);
    const foot = await page.locator('.keys').boundingBox();
    return await page.screenshot({
      clip: {
        x: 0,
        y: 0,
        width: BENCH.viewport.width,
        height: Math.ceil(foot.y + foot.height) + 16,
      },
    });
  } finally {
    await context.close();
    child.kill('SIGKILL');
  }
}

function started(folder) {
  const child = spawn(process.execPath, [PROGRAM, 'measure', folder, '--no-open'], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  return new Promise((done, fail) => {
    let output = '';
    child.stdout.on('data', (part) => {
      output += String(part);
      const address = /http:\/\/127\.0\.0\.1:\d+\/\S+\//.exec(output)?.[0];
      if (address !== undefined) done({ child, address });
    });
    child.once('close', () => fail(new Error(`measure ended: ${output}`)));
  });
}

const stage = (page, wanted) =>
  page.waitForFunction((name) => document.querySelector('.task')?.dataset.stage === name, wanted);

async function press(page, key, next) {
  await page.keyboard.press(key);
  await stage(page, next);
}

const enter = (page, next) => press(page, 'Enter', next);

/** Past the cautions, zero typed, the beam on for so long. */
async function lit(page, run, ms) {
  await press(page, 'u', 'zero');
  await page.keyboard.type(SHOWN[run].zero);
  await enter(page, 'beam');
  await press(page, 'Space', 'reading');
  await page.clock.fastForward(ms);
}

/** The reading is due, and this is typed. */
async function typed(page, run, text) {
  await lit(page, run, 31_000);
  await page.keyboard.type(text);
}
