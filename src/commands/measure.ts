import { spawn } from 'node:child_process';
import { readFile, stat, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { createInterface } from 'node:readline';
import { MeterpairError } from '../error.js';
import { withoutControls } from '../findings/escape.js';
import { deskOf } from '../measure/desk.js';
import { firstSheet } from '../measure/firstSheet.js';
import { removeLeftovers } from '../measure/folder.js';
import { takeLock } from '../measure/lock.js';
import { PAGE_HTML, PAGE_STYLE } from '../measure/pageHtml.js';
import { benchServer } from '../measure/server.js';
import type { Io } from './io.js';
import { openFile } from './openFile.js';
import { badUse, readOptions, requireAtMost } from './options.js';
import { ROOT } from './project.js';

const HELP = `Keeps the books at the bench: a page on this machine that says which meter is next, times the
reading, asks about unlikely entries and writes each run into runs.csv.

  npx meterpair measure FOLDER               the study in FOLDER: study.json, and the runs.csv of
                                             a plan; without one the least is planned
  npx meterpair measure FOLDER --wanted 4    ± 4 % is wanted of a reading corrected later;
                                             without it the tolerance of the study
  npx meterpair measure FOLDER --no-open     only prints the address

Example: npx meterpair measure my-meters

Ctrl-C ends it. What the page has shown as written is on disk. docs/bench.md has the keys.
`;

const OPTIONS = { wanted: { value: 'PERCENT' }, 'no-open': {} } as const;

interface MeasureWishes {
  readonly folder: string;
  /** Wanted U of a corrected reading, a fraction; `null`: the tolerance of the study. */
  readonly wanted: number | null;
  readonly open: boolean;
}

/** Serves the page for the bench until it is stopped from outside. */
export async function measure(args: readonly string[], io: Io): Promise<number> {
  const wishes = measureWishes(args, io.from);
  if (wishes === null) {
    io.out(HELP);
    return 0;
  }
  const { folder, wanted, open } = wishes;
  const notes = await prepared(folder);
  const script = await readFile(join(ROOT, 'dist', 'measure', 'page.js'), 'utf8');
  const server = await benchServer({ html: PAGE_HTML, script, style: PAGE_STYLE }, (error) =>
    io.err(`A fault of this program: ${String(error)}\n`),
  );
  const lock = await takeLock(folder, server.port).catch(async (error: unknown) => {
    await server.close();
    throw error;
  });
  io.onStop(lock.release);
  await removeLeftovers(folder);
  server.serve(deskOf({ folder, wanted, lock, notes, compare: comparing(folder, open) }));
  const lines = [...notes, `The page for the bench: ${server.address}`, 'Ctrl-C ends it.'];
  io.out(`${lines.join('\n')}\n`);
  if (open) openFile(server.address);
  // The server keeps the process alive; stopping it is the only end.
  return new Promise(() => undefined);
}

function measureWishes(args: readonly string[], from: string): MeasureWishes | null {
  const { places, options, help } = readOptions(args, OPTIONS);
  if (help) return null;
  requireAtMost(places, ['FOLDER']);
  const [folder] = places;
  if (folder === undefined) {
    throw badUse('A study folder is needed.', 'nothing', 'npx meterpair measure FOLDER');
  }
  const percent = options.wanted === null ? null : Number(options.wanted.replace(',', '.'));
  if (percent !== null && !(percent > 0 && percent < 100)) {
    const found = options.wanted ?? '';
    throw badUse('The wanted uncertainty is no percentage.', found, '--wanted 4 for ± 4 %');
  }
  return {
    folder: resolve(from, folder),
    wanted: percent === null ? null : percent / 100,
    open: !options['no-open'],
  };
}

/** Sees to a runs.csv before a laser is on; gives what there is to say of it. */
async function prepared(folder: string): Promise<readonly string[]> {
  const there = await stat(folder).catch(() => null);
  if (there?.isDirectory() !== true) {
    throw new MeterpairError({
      code: 'file-missing',
      file: folder,
      message: 'There is no such folder.',
      expected: 'a folder that holds study.json',
    });
  }
  const { runs, note } = await firstSheet(folder);
  if (runs === null) return [];
  // `wx`: a file that came meanwhile is not written over.
  await writeFile(join(folder, 'runs.csv'), runs, { flag: 'wx' });
  return [note];
}

/** `compare`, in a process of its own: it takes a minute, and a fault of it leaves the bench alone. */
function comparing(folder: string, open: boolean) {
  return (tell: (line: string) => void): Promise<boolean> => {
    const out = join(folder, 'report');
    const args = [join(ROOT, 'dist', 'commands', 'main.js'), 'compare', folder, '--out', out];
    const child = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'pipe'] });
    for (const stream of [child.stdout, child.stderr]) {
      createInterface({ input: stream }).on('line', (line) => tell(withoutControls(line)));
    }
    return new Promise((done, fail) => {
      child.once('error', fail);
      child.once('close', (code) => {
        if (code === 0 && open) openFile(join(out, 'report.html'));
        done(code === 0);
      });
    });
  };
}
