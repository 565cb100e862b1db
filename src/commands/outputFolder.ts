import { constants, rmSync } from 'node:fs';
import { access, mkdir, mkdtemp, realpath, rename, rm, stat, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { MeterpairError } from '../error.js';
import type { Io } from './io.js';

/** Text of each file by its name. */
export type OutputFiles = Readonly<Record<string, string>>;

/**
 * Looks whether files of these names can be put into a folder, without touching anything.
 *
 * @throws command-line when the folder or one of the files is something else, or writing is not allowed
 */
export async function checkOutputFolder(out: string, names: readonly string[]): Promise<void> {
  const kind = await kindOf(out);
  if (kind === 'other') {
    throw unfit('The output folder cannot be used.', `${out}, which is a file`, 'a folder');
  }
  if (kind === 'folder') {
    for (const name of names) {
      if ((await kindOf(join(out, name))) !== 'folder') continue;
      throw unfit(
        'An output file cannot be written.',
        `a folder called ${join(out, name)}`,
        'a file',
      );
    }
  }
  let place = kind === 'folder' ? out : dirname(out);
  while ((await kindOf(place)) === 'nothing' && dirname(place) !== place) place = dirname(place);
  if ((await kindOf(place)) !== 'folder') {
    throw unfit('The output folder cannot be made.', `${place}, which is a file`, 'a folder');
  }
  try {
    await access(place, constants.W_OK);
  } catch {
    throw unfit('Writing is not allowed there.', place, 'a folder you may write to; see --out DIR');
  }
}

/**
 * Writes the files beside the output folder first and moves them into place once all of them
 * are complete, so that an interrupted run leaves the earlier files whole. Other files stay.
 */
export async function writeOutputs(
  out: string,
  files: OutputFiles,
  io: Pick<Io, 'onStop'>,
): Promise<void> {
  const target = (await kindOf(out)) === 'folder' ? await realpath(out) : out;
  await mkdir(dirname(target), { recursive: true });
  const waiting = await waitingFolder(target);
  const done = io.onStop(() => rmSync(waiting, { recursive: true, force: true }));
  try {
    for (const [name, text] of Object.entries(files)) await writeFile(join(waiting, name), text);
    await mkdir(target, { recursive: true });
    for (const name of Object.keys(files)) await rename(join(waiting, name), join(target, name));
  } finally {
    done();
    await rm(waiting, { recursive: true, force: true });
  }
}

/** Beside the output folder; inside it where the folder above is closed to us. */
async function waitingFolder(target: string): Promise<string> {
  try {
    return await mkdtemp(join(dirname(target), '.meterpair-'));
  } catch {
    return mkdtemp(join(target, '.meterpair-'));
  }
}

async function kindOf(path: string): Promise<'nothing' | 'folder' | 'other'> {
  try {
    return (await stat(path)).isDirectory() ? 'folder' : 'other';
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : undefined;
    if (code === 'ENOENT') return 'nothing';
    return code === 'ENOTDIR' ? 'nothing' : 'other';
  }
}

function unfit(message: string, found: string, expected: string): MeterpairError {
  return new MeterpairError({ code: 'command-line', message, found, expected });
}
