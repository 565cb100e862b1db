import { spawn } from 'node:child_process';
import { readFile, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { createInterface } from 'node:readline';
import { withoutControls } from '../findings/escape.js';
import { deskOf } from '../measure/desk.js';
import { firstSheet } from '../measure/firstSheet.js';
import { removeLeftovers } from '../measure/folder.js';
import { takeLock } from '../measure/lock.js';
import { PAGE_HTML, PAGE_STYLE } from '../measure/pageHtml.js';
import { benchServer } from '../measure/server.js';
import { requireFolder } from '../record/readStudy.js';
import { openFile } from './openFile.js';
import { badUse, verb } from './options.js';
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

/** Serves the page for the bench until it is stopped from outside. */
export const measure = verb({
  help: HELP,
  options: { wanted: { value: 'PERCENT' }, 'no-open': {} },
  places: ['FOLDER'],
  run: async ({ places: [place], options }, io) => {
    if (place === undefined) {
      throw badUse('A study folder is needed.', 'nothing', 'npx meterpair measure FOLDER');
    }
    const folder = resolve(io.from, place);
    const open = !options['no-open'];
    const wanted = options.wanted === null ? null : wantedPart(options.wanted);
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
  },
});

/** Wanted U of a corrected reading, a fraction. */
function wantedPart(text: string): number {
  const percent = Number(text.replace(',', '.'));
  if (percent > 0 && percent < 100) return percent / 100;
  throw badUse('The wanted uncertainty is no percentage.', text, '--wanted 4 for ± 4 %');
}

/** Sees to a runs.csv before a laser is on; gives what there is to say of it. */
async function prepared(folder: string): Promise<readonly string[]> {
  await requireFolder(folder);
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
