import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test, vi } from 'vitest';
import { isChanged, isOurs, sealed } from '../../src/commands/seal.js';
import { type OutputSet, writeOutputs } from '../../src/commands/writeOutputs.js';
import { MeterpairError } from '../../src/error.js';

vi.setConfig({ testTimeout: 240_000 });

const scratch = () => mkdtempSync(join(tmpdir(), 'meterpair-test-'));
const io = { out: () => undefined, onStop: () => () => undefined };
const NAMES = ['result.json', 'factors.json', 'report.html', 'compare.ipynb'];

/** A whole set whose files all say `word`. */
function setOf(word: string, leaveOut: readonly string[] = []): OutputSet {
  const files: Record<string, string> = {
    'result.json': `{"schema":"meterpair.result/2","word":"${word}"}\n`,
    'factors.json': `{"schema":"meterpair.factors/2","word":"${word}"}\n`,
    'report.html': `<p>${word}</p>`,
    'compare.ipynb': `{"cells":[],"metadata":{},"word":"${word}"}\n`,
  };
  for (const name of leaveOut) delete files[name];
  return { files, names: NAMES, answer: ['result.json', 'factors.json'] };
}

/** Which word each file of a folder says. */
const wordsIn = (folder: string) =>
  NAMES.filter((name) => existsSync(join(folder, name))).map(
    (name) => /alpha|beta/.exec(readFileSync(join(folder, name), 'utf8'))?.[0],
  );

const all = (word: string) => NAMES.map(() => word);
const earlierIn = (out: string) => readdirSync(out).filter((name) => name.startsWith('earlier-'));

async function refusal(promise: Promise<unknown>): Promise<MeterpairError> {
  const error = await promise.then(
    () => undefined,
    (reason: unknown) => reason,
  );
  if (!(error instanceof MeterpairError)) throw new Error(`Not the package's error: ${error}`);
  return error;
}

describe('nothing is overwritten in silence', () => {
  test('a new folder appears with all files, readable as others are', async () => {
    const out = join(scratch(), 'made', 'out');
    expect(await writeOutputs(out, setOf('alpha'), io)).toBeNull();
    expect(readdirSync(out).sort()).toEqual([...NAMES].sort());
    const plain = join(scratch(), 'plain');
    mkdirSync(plain);
    expect(statSync(out).mode).toBe(statSync(plain).mode);
  });

  test('an earlier set of another answer goes whole into a folder with its date', async () => {
    const out = scratch();
    await writeOutputs(out, setOf('alpha'), io);
    const kept = await writeOutputs(out, setOf('beta'), io);
    expect(kept).toMatch(/earlier-\d{4}-\d\d-\d\d$/);
    expect(wordsIn(kept ?? '')).toEqual(all('alpha'));
    expect(wordsIn(out)).toEqual(all('beta'));
    // And a third one does not take the place of the first.
    const again = await writeOutputs(out, setOf('alpha'), io);
    expect(again).toBe(`${kept}-2`);
    expect(wordsIn(again ?? '')).toEqual(all('beta'));
    expect(readdirSync(out).filter((name) => name.startsWith('.'))).toEqual([]);
  });

  test('a file of the earlier answer that is not made anew does not stay beside the new one', async () => {
    const out = scratch();
    await writeOutputs(out, setOf('alpha'), io);
    const kept = await writeOutputs(out, setOf('beta', ['compare.ipynb']), io);
    expect(existsSync(join(out, 'compare.ipynb'))).toBe(false);
    expect(wordsIn(kept ?? '')).toEqual(all('alpha'));
  });

  test('the same answer takes the place of itself, and what was not made anew stays', async () => {
    const out = scratch();
    await writeOutputs(out, setOf('alpha'), io);
    expect(await writeOutputs(out, setOf('alpha', ['compare.ipynb']), io)).toBeNull();
    expect(readdirSync(out).sort()).toEqual([...NAMES].sort());
  });

  test('a page or notebook that somebody has worked on is kept, the same answer or not', async () => {
    const out = scratch();
    await writeOutputs(out, setOf('alpha'), io);
    const path = join(out, 'compare.ipynb');
    writeFileSync(path, readFileSync(path, 'utf8').replace('"cells": []', '"cells": ["mine"]'));
    const kept = await writeOutputs(out, setOf('alpha'), io);
    expect(readFileSync(join(kept ?? '', 'compare.ipynb'), 'utf8')).toContain('mine');
    expect(readdirSync(kept ?? '')).toEqual(['compare.ipynb']);
    expect(readFileSync(path, 'utf8')).not.toContain('mine');
  });

  test.each([
    ['report.html', '<p>my own page</p>'],
    ['compare.ipynb', '{"cells":[],"metadata":{}}'],
    ['result.json', '{"mine":1}'],
    ['factors.json', 'not even JSON'],
  ])('somebody’s own %s is refused and stays, and so does everything else', async (name, text) => {
    const out = scratch();
    writeFileSync(join(out, name), text);
    const error = await refusal(writeOutputs(out, setOf('beta'), io));
    expect(error.code).toBe('command-line');
    expect(error.message).toContain(join(out, name));
    expect(error.message).toContain('--out');
    expect(readdirSync(out)).toEqual([name]);
    expect(readFileSync(join(out, name), 'utf8')).toBe(text);
  });
});

test('the folder of an earlier set carries the day of its result, and a second one a number', async () => {
  const out = scratch();
  const names = [...NAMES].reverse();
  await writeOutputs(out, setOf('alpha'), io);
  for (const name of NAMES) utimesSync(join(out, name), 0, new Date(2021, 4, 6, 12));
  utimesSync(join(out, 'result.json'), 0, new Date(2020, 1, 3, 12));
  const told: string[] = [];
  const listening = { ...io, out: (text: string) => told.push(text) };
  const kept = await writeOutputs(out, { ...setOf('beta'), names }, listening);
  expect(kept).toBe(join(out, 'earlier-2020-02-03'));
  expect(told).toEqual([`What stood there before is kept in ${kept}\n`]);
  // Without a result among what is kept, the day of the first of them.
  const page = join(out, 'report.html');
  writeFileSync(page, readFileSync(page, 'utf8').replace('beta', 'beta, read'));
  utimesSync(page, 0, new Date(2022, 6, 7, 12));
  expect(await writeOutputs(out, setOf('beta'), io)).toBe(join(out, 'earlier-2022-07-07'));
});

test('what a killed run left goes, that of one that runs stays', async () => {
  const out = scratch();
  // No process has a number as high as this (Linux: 2²² at the most).
  const dead = '.meterpair-4194999-0011aabb';
  for (const name of [dead, `.meterpair-${process.pid}-0011aabb`, '.meterpair-x', 'mine']) {
    mkdirSync(join(out, name));
    writeFileSync(join(out, name, 'file'), 'x');
  }
  await writeOutputs(out, setOf('alpha'), io);
  const left = readdirSync(out).filter((name) => !NAMES.includes(name));
  expect(left.sort()).toEqual([`.meterpair-${process.pid}-0011aabb`, '.meterpair-x', 'mine']);
});

test('a folder that cannot be made is said with its cause, and nothing is left', async () => {
  const at = scratch();
  writeFileSync(join(at, 'file'), 'x');
  const error = await refusal(writeOutputs(join(at, 'file/out'), setOf('alpha'), io));
  expect([error.code, error.found]).toEqual(['file-unwritable', join(at, 'file/out')]);
  expect(error.message).toMatch(
    /The files cannot be written \(E\w+\)\. Nothing was changed there\./,
  );
  expect(readdirSync(at)).toEqual(['file']);
});

test('stopped half-way, nothing of it is left', async () => {
  const at = scratch();
  const out = join(at, 'deep/out');
  let stop: () => void = () => undefined;
  let taken = false;
  const stopping = {
    out: () => undefined,
    onStop: (clean: () => void) => {
      stop = clean;
      return () => {
        taken = true;
      };
    },
  };
  const writing = writeOutputs(out, setOf('alpha'), stopping);
  await new Promise((resolve) => setImmediate(resolve));
  stop();
  await writing.catch(() => undefined);
  expect(taken).toBe(true);
  expect(existsSync(out) ? readdirSync(out).sort() : [...NAMES].sort()).toEqual([...NAMES].sort());
});

test('a table of corrected readings is known by its columns, any other table is somebody’s own', () => {
  const table = 'wavelength_nm,reading_mW,corrected_mW,U_mW,k,low_mW,high_mW,cautions\n';
  expect(isOurs('made.csv', Buffer.from(table))).toBe(true);
  expect(isOurs('made.csv', Buffer.from('wavelength_nm,reading_mW\n'))).toBe(false);
});

test('a file of any kind that says the same already is nobody’s loss', async () => {
  const out = scratch();
  const set = { files: { 'runs.csv': 'meter,reading_mW\n' }, names: ['runs.csv'], answer: [] };
  await writeOutputs(out, set, io);
  expect(await writeOutputs(out, set, io)).toBeNull();
  writeFileSync(join(out, 'runs.csv'), 'meter,reading_mW\nreference,50\n');
  expect((await refusal(writeOutputs(out, set, io))).message).toContain('runs.csv');
});

describe('the seal', () => {
  test.each(['report.html', 'compare.ipynb'])(
    'of %s tells our own from what was changed',
    (name) => {
      const text = String(setOf('alpha').files[name]);
      const whole = sealed(name, text);
      expect([isOurs(name, whole), isChanged(name, whole)]).toEqual([true, false]);
      const other = Buffer.from(whole.toString().replace('alpha', 'beta'));
      expect([isOurs(name, other), isChanged(name, other)]).toEqual([true, true]);
      expect(isOurs(name, Buffer.from(text))).toBe(false);
    },
  );

  test('counts bytes, not letters', () => {
    const bytes = sealed('report.html', '<p>àλ – </p>');
    // SHA-256 of the UTF-8 text, by sha256sum of GNU coreutils.
    expect(bytes.toString()).toContain(
      'a238abb25d5b57372a6efb66ed397099b51387d88c3196305614810c0d49d8e5',
    );
    expect(isChanged('report.html', bytes)).toBe(false);
  });

  test('JSON keeps its bytes', () => {
    const text = setOf('alpha').files['result.json'] ?? '';
    const bytes = sealed('result.json', text);
    expect(bytes.toString()).toBe(text);
    expect([isOurs('result.json', bytes), isChanged('result.json', bytes)]).toEqual([true, false]);
  });
});

describe('faults at the disk leave the earlier set whole', () => {
  const dist = fileURLToPath(new URL('../../dist/commands/writeOutputs.js', import.meta.url));
  /** Writes sets in turn, in a process that can be killed: `times` of them. */
  const writer = (out: string, times: number) => `
    const { writeOutputs } = await import(${JSON.stringify(dist)});
    const fill = ' '.repeat(150000);
    const names = ${JSON.stringify(NAMES)};
    const set = (word) => ({ names, answer: ['result.json', 'factors.json'], files: {
      'result.json': JSON.stringify({ schema: 'meterpair.result/2', word, fill }),
      'factors.json': JSON.stringify({ schema: 'meterpair.factors/2', word }),
      'report.html': '<p>' + word + '</p>' + fill,
      'compare.ipynb': JSON.stringify({ cells: [fill], metadata: {}, word }),
    }});
    console.log('ready');
    for (let time = 0; time < ${times}; time += 1) {
      const word = time % 2 === 0 ? 'beta' : 'alpha';
      await writeOutputs(${JSON.stringify(out)}, set(word), { out() {}, onStop: () => () => undefined });
    }`;

  const node = (code: string) =>
    spawn(process.execPath, ['--input-type=module', '-e', code], {
      stdio: ['ignore', 'pipe', 'pipe'],
    });
  const ready = (child: ChildProcess) =>
    new Promise<void>((resolve) => child.stdout?.once('data', () => resolve()));
  const ended = (child: ChildProcess) =>
    new Promise<void>((resolve) => child.once('close', () => resolve()));

  test('killed at 50 random moments', async () => {
    const out = scratch();
    await writeOutputs(out, setOf('alpha'), io);
    let killedAtWork = 0;
    for (let round = 0; round < 50; round += 1) {
      const child = node(writer(out, 10_000));
      await ready(child);
      // Golden-ratio steps: spread evenly over a time in which several sets are written.
      await new Promise((resolve) => setTimeout(resolve, ((round * 0.618) % 1) * 60));
      child.kill('SIGKILL');
      await ended(child);
      if (readdirSync(out).some((name) => name.startsWith('.meterpair-'))) killedAtWork += 1;
      const now = wordsIn(out);
      const kept = earlierIn(out).map((name) => wordsIn(join(out, name)));
      // What is there never says two things, and what was replaced is whole in its own folder.
      expect(new Set(now).size).toBeLessThanOrEqual(1);
      for (const words of kept) expect([all('alpha'), all('beta')]).toContainEqual(words);
      expect(now.length === NAMES.length || kept.length > 0).toBe(true);
      for (const name of earlierIn(out)) rmSync(join(out, name), { recursive: true });
      await writeOutputs(out, setOf('alpha'), io);
      for (const name of earlierIn(out)) rmSync(join(out, name), { recursive: true });
    }
    expect(killedAtWork).toBeGreaterThan(0);
    await writeOutputs(out, setOf('beta'), io);
    expect(readdirSync(out).filter((name) => name.startsWith('.'))).toEqual([]);
    expect(wordsIn(out)).toEqual(all('beta'));
  });

  test('no room for a file: one sentence, and nothing new', async () => {
    const out = scratch();
    await writeOutputs(out, setOf('alpha'), io);
    // bash counts the largest file in blocks of 1,024 bytes.
    const run = spawnSync(
      'bash',
      [
        '-c',
        'ulimit -f 100; exec "$0" --input-type=module -e "$1"',
        process.execPath,
        writer(out, 1),
      ],
      { encoding: 'utf8' },
    );
    expect(run.status).not.toBe(0);
    expect(run.stderr).toContain('larger than is allowed');
    expect(readdirSync(out).sort()).toEqual([...NAMES].sort());
    expect(wordsIn(out)).toEqual(all('alpha'));
  });

  test('a folder that may not be written to: one sentence, and nothing new', async () => {
    const out = scratch();
    await writeOutputs(out, setOf('alpha'), io);
    chmodSync(out, 0o555);
    // The superuser may write anywhere, unless that is taken from the process.
    const bound = process.getuid?.() === 0 ? ['setpriv', '--bounding-set=-dac_override'] : [];
    const [command = '', ...rest] = [...bound, process.execPath];
    const run = spawnSync(command, [...rest, '--input-type=module', '-e', writer(out, 1)], {
      encoding: 'utf8',
    });
    chmodSync(out, 0o755);
    expect(run.status).not.toBe(0);
    expect(run.stderr).toContain('Writing is not allowed there. Nothing was changed there.');
    expect(readdirSync(out).sort()).toEqual([...NAMES].sort());
    expect(wordsIn(out)).toEqual(all('alpha'));
  });
});
