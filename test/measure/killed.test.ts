/** The program killed at any moment: what it has shown as written is there, and nothing is half there. */
import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, expect, test } from 'vitest';
import { parseStudy } from '../../src/record/parseStudy.js';
import { seededRandom } from '../../src/statistics/random.js';
import { LAPS, SHEET, STUDY, shownRuns } from './evening.js';
import { askAt, runsOf, studyFolder, viewAt } from './folders.js';
import { entryOf } from './playing.js';
import { SCRIPT, started } from './program.js';

const EVENING = shownRuns();
const KILLS = 6;
/** An entry takes about half of it, the first ones of a fresh process most of it. */
const LONGEST_MS = 300;
const running: ChildProcess[] = [];
const folders: string[] = [];

afterEach(() => {
  for (const child of running.splice(0)) child.kill('SIGKILL');
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

async function start(folder: string) {
  const program = await started(folder);
  running.push(program.child);
  return program;
}

test('kill −9 at any moment loses at most the entry being typed', async () => {
  const folder = studyFolder();
  folders.push(folder);
  const random = seededRandom(9);
  let shown = 0;
  for (let kill = 0; kill < KILLS && shown < 2 * LAPS - 1; kill += 1) {
    const { child, address } = await start(folder);
    const { state, mark } = await viewAt(address);
    const there = state?.runs.length ?? 0;
    // All that was told as written is there; at most the one on its way is more.
    expect([shown, shown + 1]).toContain(there);
    shown = there;
    if (state?.step.do !== 'run') break;
    const wait = random.uniform() * LONGEST_MS;
    const killing = new Promise<void>((done) => {
      child.once('exit', () => done());
      setTimeout(() => child.kill('SIGKILL'), wait);
    });
    const told = await askAt(address, {
      do: 'enter',
      mark,
      ...entryOf(state, EVENING[there]!, there),
    }).then(
      ({ kind }) => kind === 'done',
      () => false,
    );
    await killing;
    if (told) shown += 1;
    const lines = runsOf(folder).split('\n');
    expect(lines.length).toBe(SHEET.split('\n').length);
    if (shown > 0) {
      const runs = parseStudy(STUDY, { runs: runsOf(folder) }).series[0]!.runs.length;
      expect(runs).toBeGreaterThanOrEqual(shown);
    }
  }
  // Some of the entries came through, or nothing was tried.
  expect(shown).toBeGreaterThan(0);
  // What killed processes left beside the file is gone with the next start.
  await start(folder);
  expect(readdirSync(folder).filter((name) => name.endsWith('.new'))).toEqual([]);
}, 120_000);

test('a second process is refused while the first lives, and served when it is dead', async () => {
  const folder = studyFolder();
  folders.push(folder);
  const first = await start(folder);
  await expect(started(folder)).rejects.toThrow(/one writer at a time/);
  first.child.kill('SIGKILL');
  await new Promise((done) => first.child.once('exit', done));
  const second = await start(folder);
  expect(second.address).not.toBe(first.address);
});

test('without runs.csv one is planned and said; without study.json nothing is made', async () => {
  const folder = studyFolder(null);
  folders.push(folder);
  const { output } = await start(folder);
  expect(output).toContain('There was no runs.csv; one was written with 8 laps');
  expect(runsOf(folder).split('\n').length).toBe(1 + 2 * 16 + 1);
  const empty = studyFolder(null);
  folders.push(empty);
  rmSync(join(empty, 'study.json'));
  await expect(started(empty)).rejects.toThrow(/study\.json/);
  expect(readdirSync(empty)).toEqual([]);
});

test.each([
  ['a folder', [], 'A study folder is needed'],
  ['one folder', ['a', 'b'], 'One FOLDER at a time'],
  ['a folder that is there', ['/nowhere/at/all'], 'no such folder'],
  ['a percentage', ['a', '--wanted', 'much'], 'no percentage'],
  ['a known option', ['a', '--port', '80'], 'no such option'],
])('%s is needed: exit code 2 and one message', async (_, args, words) => {
  const child = spawn(process.execPath, [SCRIPT, 'measure', ...args], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let told = '';
  child.stderr.on('data', (part) => {
    told += String(part);
  });
  const code = await new Promise((done) => child.once('close', done));
  expect(code).toBe(2);
  expect(told).toContain(words);
  expect(existsSync('/nowhere')).toBe(false);
});
