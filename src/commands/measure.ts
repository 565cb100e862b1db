/** `meterpair measure FOLDER`: the page for the bench. */
import { spawn } from 'node:child_process';
import { readFile, stat, writeFile } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { MeterpairError } from '../error.js';
import { firstSheet } from '../measure/firstSheet.js';
import {
  benchServer,
  deskOf,
  PAGE_HTML,
  PAGE_STYLE,
  removeLeftovers,
  takeLock,
} from '../measure/index.js';
import { withoutControls } from '../report/escape.js';
import { openFile } from './openFile.js';

const HERE = dirname(fileURLToPath(import.meta.url));

export const MEASURE_HELP = `Keeps the books at the bench: a page on this machine that says which meter is next, times
the reading, asks about unlikely entries and writes each run into runs.csv.

  meterpair measure FOLDER                the study in FOLDER (study.json; runs.csv of a plan)
  meterpair measure FOLDER --wanted 4     ± 4 % is wanted of a reading corrected later;
                                          without it the tolerance of the study
  meterpair measure FOLDER --no-open      only prints the address

Example: meterpair measure my-meters
Ctrl-C ends it. Nothing that the page has shown as written is lost, even by a power cut.
`;

interface Wanted {
  readonly folder: string;
  readonly wanted: number | null;
  readonly open: boolean;
}

/**
 * Serves the page until it is interrupted.
 *
 * @param args what stands behind the verb
 * @returns exit code: 0 done, 2 bad input or bad use
 */
export async function measure(args: readonly string[]): Promise<number> {
  try {
    const wanted = argumentsOf(args);
    if (wanted === null) {
      process.stdout.write(MEASURE_HELP);
      return 0;
    }
    await serve(wanted);
    return 0;
  } catch (error) {
    if (!(error instanceof MeterpairError)) throw error;
    process.stderr.write(`${error.message.split('\n').map(withoutControls).join('\n')}\n`);
    return 2;
  }
}

/** @returns `null` when help is asked for */
function argumentsOf(args: readonly string[]): Wanted | null {
  const { values, positionals } = parsed(args);
  if (values.help === true) return null;
  const [folder] = positionals;
  if (positionals.length !== 1 || folder === undefined || folder === '') {
    const found = positionals.length === 0 ? 'no folder' : positionals.join(' and ');
    throw wrong('One study folder is needed.', found, 'meterpair measure FOLDER');
  }
  const percent = values.wanted === undefined ? null : Number(values.wanted.replace(',', '.'));
  if (percent !== null && !(percent > 0 && percent < 100)) {
    const found = values.wanted ?? '';
    throw wrong('The wanted uncertainty is no percentage.', found, '--wanted 4 for ± 4 %');
  }
  return {
    folder: resolve(process.env.INIT_CWD ?? process.cwd(), folder),
    wanted: percent === null ? null : percent / 100,
    open: values['no-open'] !== true,
  };
}

function parsed(args: readonly string[]) {
  try {
    return parseArgs({
      args: [...args],
      options: {
        wanted: { type: 'string' },
        'no-open': { type: 'boolean' },
        help: { type: 'boolean', short: 'h' },
      },
      allowPositionals: true,
    });
  } catch (error) {
    const found = error instanceof Error ? error.message : String(error);
    throw wrong('The command cannot be read.', found, '--wanted PERCENT, --no-open or --help');
  }
}

async function serve({ folder, wanted, open }: Wanted): Promise<void> {
  const notes = await prepared(folder);
  const script = await readFile(join(HERE, '..', 'measure', 'page.js'), 'utf8');
  const server = await benchServer({ html: PAGE_HTML, script, style: PAGE_STYLE }, (error) => {
    process.stderr.write(`A fault of this program: ${String(error)}\n`);
  });
  try {
    const lock = await takeLock(folder, server.port);
    try {
      await removeLeftovers(folder);
      server.serve(deskOf({ folder, wanted, lock, notes, compare: comparing(folder, open) }));
      process.stdout.write(
        `${[...notes, `The page for the bench: ${server.address}`, 'Ctrl-C ends it.'].join('\n')}\n`,
      );
      if (open) openFile(server.address);
      await interrupted();
    } finally {
      await lock.release();
    }
  } finally {
    await server.close();
  }
}

/** Sees to a runs.csv, and to both files being readable before a laser is on. */
async function prepared(folder: string): Promise<readonly string[]> {
  const there = await stat(folder).catch(() => null);
  if (there?.isDirectory() !== true) {
    const message = 'There is no such folder.';
    const expected = 'a folder that holds study.json; `meterpair plan FOLDER` writes one';
    throw new MeterpairError({ code: 'file-missing', file: folder, message, expected });
  }
  const study = await firstSheet(folder);
  const notes: string[] = [];
  if (study.runs !== null) {
    // `wx`: a file that came meanwhile is not written over.
    await writeFile(join(folder, 'runs.csv'), study.runs, { flag: 'wx' });
    notes.push(study.note);
  }
  return notes;
}

/** The comparison that `npm start` makes, in a process of its own: a fault of it leaves the bench alone. */
function comparing(folder: string, open: boolean) {
  return (tell: (line: string) => void): Promise<boolean> => {
    const out = join(folder, 'report');
    const script = join(HERE, '..', 'notebook', 'start.js');
    const child = spawn(process.execPath, [script, folder, '--out', out], {
      stdio: ['ignore', 'pipe', 'pipe'],
      env: { ...process.env, NO_COLOR: '1' },
    });
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

function interrupted(): Promise<void> {
  return new Promise((done) => {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => done());
  });
}

function wrong(message: string, found: string, expected: string): MeterpairError {
  return new MeterpairError({ code: 'command-line', message, found, expected });
}

// Until the dispatcher of all verbs is there: node dist/commands/measure.js FOLDER
if (process.argv[1] === fileURLToPath(import.meta.url)) {
  process.exitCode = await measure(process.argv.slice(2));
}
