/** Files of the bench on disk, requests of the page, the comparison: each rule by itself. */
import {
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, test } from 'vitest';
import { answerOf } from '../../src/measure/answer.js';
import { comparing } from '../../src/measure/comparison.js';
import { deskOf } from '../../src/measure/desk.js';
import { readFolder, removeLeftovers, replaceFile } from '../../src/measure/folder.js';
import { LOCK_FILE, takeLock } from '../../src/measure/lock.js';
import { requestSchema } from '../../src/measure/requests.js';
import { errorLater } from '../record/support.js';

const RUNS = 'meter,reading_mW\nreference,46\n';
const folders: string[] = [];
afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

function folderOf(files: Readonly<Record<string, string | Uint8Array>>): string {
  const folder = mkdtempSync(join(tmpdir(), 'meterpair-folder-'));
  folders.push(folder);
  for (const [name, content] of Object.entries({ 'study.json': '{"a":1}', ...files }))
    writeFileSync(join(folder, name), content);
  return folder;
}

describe('a folder read', () => {
  test('has its files as they stand', async () => {
    const files = await readFolder(folderOf({ 'runs.csv': RUNS }));
    expect(files).toEqual({
      study: { a: 1 },
      runs: RUNS,
      mark: expect.stringMatching(/^[0-9a-f]{32}$/),
      encodingGuessed: false,
    });
    const traced = await readFolder(folderOf({ 'runs.csv': RUNS, 'traces.csv': 'run\n' }));
    expect(traced.traces).toBe('run\n');
    const empty = await readFolder(folderOf({ 'runs.csv': RUNS, 'traces.csv': '' }));
    expect('traces' in empty).toBe(false);
  });

  test('says so where runs.csv is not UTF-8', async () => {
    const bytes = Buffer.from('meter,reading_mW,note\nreference,46,gr\u00fcn\n', 'latin1');
    const { runs, encodingGuessed } = await readFolder(folderOf({ 'runs.csv': bytes }));
    expect([runs.includes('grün'), encodingGuessed]).toEqual([true, true]);
  });

  test('has another mark with any byte, and with bytes that move from one file to the next', async () => {
    const mark = async (files: Readonly<Record<string, string>>) =>
      (await readFolder(folderOf(files))).mark;
    const marks = await Promise.all([
      mark({ 'runs.csv': RUNS }),
      mark({ 'runs.csv': `${RUNS}x` }),
      mark({ 'runs.csv': RUNS, 'traces.csv': 'x' }),
      mark({ 'runs.csv': RUNS, 'study.json': '{"a":2}' }),
    ]);
    expect(new Set(marks).size).toBe(4);
    expect(await mark({ 'runs.csv': RUNS })).toBe(marks[0]);
  });

  test('needs study.json and runs.csv, and traces.csv no folder', async () => {
    const error = await errorLater(readFolder(folderOf({})));
    expect(error).toMatchObject({ code: 'file-missing', file: 'runs.csv' });
    expect(error.expected).toContain('a file runs.csv in ');
    const folder = folderOf({ 'runs.csv': RUNS });
    rmSync(join(folder, 'study.json'));
    expect(await errorLater(readFolder(folder))).toMatchObject({ file: 'study.json' });
    const odd = folderOf({ 'runs.csv': RUNS });
    symlinkSync(tmpdir(), join(odd, 'traces.csv'));
    expect(await errorLater(readFolder(odd))).toMatchObject({
      code: 'file-unreadable',
      file: 'traces.csv',
    });
  });
});

describe('a file replaced', () => {
  test('has the new text and the rights of the old one, and nothing is left beside it', async () => {
    const folder = folderOf({ 'runs.csv': RUNS });
    const { mark } = await readFolder(folder);
    const { mode } = statSync(join(folder, 'runs.csv'));
    expect(await replaceFile(folder, 'runs.csv', mark, 'new\n')).toBe('replaced');
    expect(readFileSync(join(folder, 'runs.csv'), 'utf8')).toBe('new\n');
    expect(statSync(join(folder, 'runs.csv')).mode).toBe(mode);
    expect(readdirSync(folder).sort()).toEqual(['runs.csv', 'study.json']);
  });

  test('is made where there was none', async () => {
    const folder = folderOf({ 'runs.csv': RUNS });
    const { mark } = await readFolder(folder);
    expect(await replaceFile(folder, 'traces.csv', mark, 'run\n')).toBe('replaced');
    expect(readFileSync(join(folder, 'traces.csv'), 'utf8')).toBe('run\n');
  });

  test('is left alone where any of them has changed', async () => {
    const folder = folderOf({ 'runs.csv': RUNS });
    const { mark } = await readFolder(folder);
    writeFileSync(join(folder, 'study.json'), '{"a":2}');
    expect(await replaceFile(folder, 'runs.csv', mark, 'new\n')).toBe('changed');
    expect(readFileSync(join(folder, 'runs.csv'), 'utf8')).toBe(RUNS);
    expect(readdirSync(folder).sort()).toEqual(['runs.csv', 'study.json']);
  });

  test('leaves nothing beside it where the folder cannot be read any more', async () => {
    const folder = folderOf({ 'runs.csv': RUNS });
    const { mark } = await readFolder(folder);
    rmSync(join(folder, 'study.json'));
    expect(await errorLater(replaceFile(folder, 'runs.csv', mark, 'new\n'))).toMatchObject({
      file: 'study.json',
    });
    expect(readdirSync(folder)).toEqual(['runs.csv']);
  });
});

test('what a killed process left is removed, beside the file that a link leads to, and nothing else', async () => {
  const hex = '0123456789ab';
  const others = [
    '.runs.csv.new',
    `runs.csv.${hex}.new`,
    `.runs.csv.${hex}.new.txt`,
    `.runs.csv.${hex}0.new`,
    `.other.csv.${hex}.new`,
    `x.runs.csv.${hex}.new`,
  ];
  const left = Object.fromEntries(
    [`.runs.csv.${hex}.new`, `.traces.csv.${hex}.new`, ...others].map((name) => [name, '']),
  );
  const behind = folderOf({ 'runs.csv': RUNS, ...left });
  const folder = folderOf({});
  symlinkSync(join(behind, 'runs.csv'), join(folder, 'runs.csv'));
  await removeLeftovers(folder);
  expect(readdirSync(behind).sort()).toEqual([...others, 'runs.csv', 'study.json'].sort());
});

describe('a request of the page', () => {
  const accepts = (request: object) => requestSchema.safeParse(request).success;
  const enter = {
    do: 'enter',
    mark: 'm',
    row: 2,
    reading: '46',
    zero: '',
    peak: '',
    setting: '',
    started_ms: 0,
    ahead_min: 0,
    checked: false,
  };
  const film = (point: object, count = 1) => ({
    do: 'film',
    mark: 'm',
    row: 2,
    points: Array(count).fill({ elapsed_s: 0, reading: '1', ...point }),
  });
  const more = (laps: number) => ({ do: 'more', mark: 'm', laps });

  test.each<[object, object]>([
    [enter, { ...enter, extra: 1 }],
    [
      { ...enter, row: 1 },
      { ...enter, row: 0 },
    ],
    [
      { ...enter, row: 1e6 },
      { ...enter, row: 1e6 + 1 },
    ],
    [
      { ...enter, row: 3 },
      { ...enter, row: 2.5 },
    ],
    [
      { ...enter, mark: 'x'.repeat(64) },
      { ...enter, mark: 'x'.repeat(65) },
    ],
    [
      { ...enter, reading: 'x'.repeat(400) },
      { ...enter, reading: 'x'.repeat(401) },
    ],
    [
      { ...enter, started_ms: null },
      { ...enter, started_ms: -1 },
    ],
    [
      { ...enter, started_ms: 8e15 },
      { ...enter, started_ms: 8.1e15 },
    ],
    [
      { ...enter, ahead_min: 900 },
      { ...enter, ahead_min: 901 },
    ],
    [
      { ...enter, ahead_min: -900 },
      { ...enter, ahead_min: -901 },
    ],
    [
      { ...enter, ahead_min: 30 },
      { ...enter, ahead_min: 0.5 },
    ],
    [film({}), { ...film({}), extra: 1 }],
    [film({ elapsed_s: 1e5 }), film({ elapsed_s: 100_001 })],
    [film({ elapsed_s: -1e5 }), film({ elapsed_s: -100_001 })],
    [film({ reading: 'x'.repeat(30) }), film({ reading: 'x'.repeat(31) })],
    [film({}, 300), film({}, 301)],
    [film({}), film({ extra: 1 })],
    [more(1), more(0)],
    [more(100), more(101)],
    [more(4), more(4.5)],
    [
      { do: 'close', mark: 'm' },
      { do: 'close', mark: 'm', row: 2 },
    ],
    [
      { do: 'compare', mark: 'm' },
      { do: 'compare', mark: 'm', row: 2 },
    ],
    [
      { do: 'take-back', mark: 'm', row: 2, reason: 'x' },
      { do: 'take-back', mark: 'm', row: 2, reason: 'x', extra: 1 },
    ],
  ])('such as %j is one, and %j is none', (right, wrong) => {
    expect([accepts(right), accepts(wrong)]).toEqual([true, false]);
  });
});

describe('the comparison', () => {
  const turn = () => new Promise((done) => setTimeout(done, 0));

  test('tells its last 40 lines, and the end', async () => {
    let tell: (line: string) => void = () => undefined;
    let end: (good: boolean) => void = () => undefined;
    const one = comparing((say) => {
      tell = say;
      return new Promise((done) => {
        end = done;
      });
    });
    expect([one.now(), one.news()]).toEqual([null, 0]);
    expect(one.start()).toBe(true);
    expect([one.now(), one.news()]).toEqual([{ state: 'running', lines: [] }, 1]);
    expect(one.start()).toBe(false);
    for (let i = 1; i <= 41; i += 1) tell(`line ${i}`);
    expect(one.now()?.lines).toEqual(Array.from({ length: 40 }, (_, i) => `line ${i + 2}`));
    expect(one.news()).toBe(42);
    end(true);
    await turn();
    expect([one.now()?.state, one.now()?.lines.length, one.news()]).toEqual(['done', 40, 43]);
    // Once it is done it may be started again, from nothing
    expect(one.start()).toBe(true);
    expect(one.now()).toEqual({ state: 'running', lines: [] });
  });

  test('may fail, and says why it broke off', async () => {
    const bad = comparing(async () => false);
    bad.start();
    await turn();
    expect(bad.now()).toEqual({ state: 'failed', lines: [] });
    const broken = comparing(async (say) => {
      say('begun');
      throw new Error('no disk');
    });
    broken.start();
    await turn();
    expect(broken.now()).toEqual({ state: 'failed', lines: ['begun', 'Error: no disk'] });
    expect(broken.start()).toBe(true);
  });
});

describe('the desk', () => {
  const STUDY = JSON.stringify({
    reference: {},
    candidate: {},
    sources: [{ name: 'green', wavelength_nm: 520 }],
  });
  const SHEET = 'meter,reading_mW,note\nreference,46,\ncandidate,,\n';
  const desk = (folder: string, held = true, notes?: readonly string[]) =>
    deskOf({
      folder,
      wanted: null,
      lock: { held: async () => held },
      ...(notes === undefined ? {} : { notes }),
      compare: async () => true,
    });

  test('shows the state with its notes, or the faults line by line', async () => {
    const folder = folderOf({ 'study.json': STUDY, 'runs.csv': SHEET });
    const view = await desk(folder, true, ['planned']).view();
    expect(view).toMatchObject({ faults: [], notes: ['planned'], comparison: null });
    expect(view.state?.step).toMatchObject({ do: 'run', row: 3 });
    expect((await desk(folder).view()).notes).toEqual([]);
    writeFileSync(join(folder, 'runs.csv'), 'meter,reading_mW\nreference,x\ncandidate,y\n');
    const wrong = await desk(folder, true, ['planned']).view();
    expect(wrong).toMatchObject({ state: null, notes: ['planned'] });
    expect(wrong.faults.map((line) => /row \d/.exec(line)?.[0])).toEqual(['row 2', 'row 3']);
    expect(wrong.mark).toMatch(/^[0-9a-f]{32}$/);
    rmSync(join(folder, 'runs.csv'));
    const gone = await desk(folder).view();
    expect(gone).toMatchObject({ mark: '', state: null, notes: [], comparison: null });
    expect(gone.faults[0]).toContain('There is no such file.');
  });

  test('says once more that the file is not UTF-8', async () => {
    const bytes = Buffer.from(SHEET.replace('46,', '46,gr\u00fcn'), 'latin1');
    const { notes } = await desk(folderOf({ 'study.json': STUDY, 'runs.csv': bytes }), true, [
      'planned',
    ]).view();
    expect(notes).toEqual(['planned', expect.stringContaining('not saved as UTF-8')]);
  });

  test('does each thing that the page may ask for', async () => {
    const folder = folderOf({ 'study.json': STUDY, 'runs.csv': SHEET });
    const one = desk(folder);
    const mark = async () => (await one.view()).mark;
    const text = () => readFileSync(join(folder, 'runs.csv'), 'utf8');
    const entry = {
      do: 'enter',
      row: 3,
      reading: '41',
      zero: '',
      peak: '',
      setting: '',
      started_ms: null,
      ahead_min: 0,
      checked: false,
    } as const;
    const done = await one.ask({ ...entry, mark: await mark() });
    expect(done).toMatchObject({ kind: 'done', view: { state: { step: { do: 'close' } } } });
    expect(text()).toBe('meter,reading_mW,note\nreference,46,\ncandidate,41,\n');
    await one.ask({ do: 'take-back', mark: await mark(), row: 3, reason: 'knocked head' });
    expect(text()).toContain('candidate,41,,knocked head');
    await one.ask({ do: 'more', mark: await mark(), laps: 1 });
    expect(text().trimEnd().split('\n')).toHaveLength(5);
    const points = [0, 1, 2].map((elapsed_s) => ({ elapsed_s, reading: '40' }));
    await one.ask({ do: 'film', mark: await mark(), row: 2, points });
    expect(readFileSync(join(folder, 'traces.csv'), 'utf8').split('\n')).toHaveLength(5);
    expect(await one.ask({ do: 'close', mark: await mark() })).toMatchObject({
      kind: 'refused',
      message: 'No series waits to be closed.',
    });
  });

  test('refuses at the last moment, where somebody wrote while it worked', async () => {
    const folder = folderOf({ 'study.json': STUDY, 'runs.csv': SHEET });
    const path = join(folder, 'runs.csv');
    const late = deskOf({
      folder,
      wanted: null,
      lock: {
        held: async () => {
          writeFileSync(path, `${SHEET}reference,,\n`);
          return true;
        },
      },
      compare: async () => true,
    });
    const { mark } = await late.view();
    const reply = await late.ask({ do: 'take-back', mark, row: 2, reason: 'knocked head' });
    expect(reply).toMatchObject({
      kind: 'refused',
      message: expect.stringContaining('The files were changed meanwhile'),
    });
    expect(readFileSync(path, 'utf8')).toBe(`${SHEET}reference,,\n`);
  });

  test('refuses what was made from other files, or without the lock', async () => {
    const folder = folderOf({ 'study.json': STUDY, 'runs.csv': SHEET });
    const { mark } = await desk(folder).view();
    const said = async (held: boolean, of: string) => {
      const reply = await desk(folder, held).ask({ do: 'close', mark: of });
      return reply.kind === 'refused' ? reply.message : reply.kind;
    };
    expect(await said(true, 'x')).toContain('The files were changed meanwhile');
    expect(await said(false, mark)).toContain('The lock of this folder is gone');
    expect(await said(true, mark)).toBe('No series waits to be closed.');
    rmSync(join(folder, 'runs.csv'));
    expect(await said(true, mark)).toBe('The files cannot be read as they stand.');
  });
});

describe('a lock', () => {
  test('that somebody else has by now is neither held nor taken away', async () => {
    const folder = folderOf({});
    const lock = await takeLock(folder, 1);
    expect(await lock.held()).toBe(true);
    writeFileSync(join(folder, LOCK_FILE), 'other');
    expect(await lock.held()).toBe(false);
    lock.release();
    expect(readFileSync(join(folder, LOCK_FILE), 'utf8')).toBe('other');
    rmSync(join(folder, LOCK_FILE));
    expect(await lock.held()).toBe(false);
    expect(() => lock.release()).not.toThrow();
  });

  test('says who has it', async () => {
    const folder = folderOf({});
    await takeLock(folder, 5);
    expect(JSON.parse(readFileSync(join(folder, LOCK_FILE), 'utf8'))).toEqual({
      host: expect.any(String),
      pid: process.pid,
      port: 5,
      key: expect.stringMatching(/^[0-9a-f]{16}$/),
    });
    const elsewhere = JSON.stringify({ host: 'elsewhere', pid: 7, port: 5 });
    writeFileSync(join(folder, LOCK_FILE), elsewhere);
    expect(await errorLater(takeLock(folder, 5))).toMatchObject({
      code: 'command-line',
      found: join(folder, LOCK_FILE),
      message: expect.stringContaining('already on elsewhere (process 7), and'),
    });
  });

  test.each([
    ['a host that is no text', { host: 1, pid: 7, port: 5 }],
    ['a process that is no number', { host: 'elsewhere', pid: 'x', port: 5 }],
    ['a port that is no number', { host: 'elsewhere', pid: 7, port: 'x' }],
  ])('with %s is nobody’s', async (_, content) => {
    const folder = folderOf({ [LOCK_FILE]: JSON.stringify(content) });
    const lock = await takeLock(folder, 5);
    expect(await lock.held()).toBe(true);
  });
});

test('an answer is a refusal for the one error, and any other is passed on', () => {
  expect(() =>
    answerOf(() => {
      throw new RangeError('a fault of ours');
    }),
  ).toThrow(RangeError);
});
