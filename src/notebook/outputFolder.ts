import { constants } from 'node:fs';
import { access, mkdir, mkdtemp, realpath, rename, rm, stat, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { MeterpairError } from '../error.js';

/** The files a comparison leaves. */
export const OUTPUT_FILES = [
  'result.json',
  'factors.json',
  'report.html',
  'card.html',
  'appendix.html',
  'compare.ipynb',
] as const;

export type OutputFiles = Readonly<Record<(typeof OUTPUT_FILES)[number], string>>;

/**
 * Looks whether the files can be put into a folder, without touching anything.
 *
 * @throws command-line when the folder or one of the files is something else, or writing is not allowed
 */
export async function checkOutputFolder(out: string): Promise<void> {
  const kind = await kindOf(out);
  if (kind === 'other') {
    throw unfit('The output folder cannot be used.', `${out}, which is a file`, 'a folder');
  }
  if (kind === 'folder') {
    for (const name of OUTPUT_FILES) {
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
export async function writeOutputs(out: string, files: OutputFiles): Promise<void> {
  const target = (await kindOf(out)) === 'folder' ? await realpath(out) : out;
  await mkdir(dirname(target), { recursive: true });
  const waiting = await waitingFolder(target);
  try {
    for (const name of OUTPUT_FILES) await writeFile(join(waiting, name), files[name]);
    await mkdir(target, { recursive: true });
    for (const name of OUTPUT_FILES) await rename(join(waiting, name), join(target, name));
  } finally {
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
