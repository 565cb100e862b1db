import { constants } from 'node:fs';
import { access, readFile, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { codeOf } from '../record/regularFile.js';
import { badUse } from './options.js';
import { type FileBytes, isOurs } from './seal.js';

/** A file that stands where an output will go. */
export interface Standing {
  readonly name: string;
  readonly path: string;
  readonly content: Buffer;
  readonly modified: Date;
}

/**
 * Looks whether files of these names can be put into a folder, without touching anything.
 *
 * @param files what will be written, sealed, where it is known: the same bytes are nobody's loss
 * @returns the files of these names that an earlier run left there
 * @throws command-line when the folder or one of the files is something else, a file is somebody's
 *   own, or writing is not allowed
 */
export async function checkOutputFolder(
  out: string,
  names: readonly string[],
  files: FileBytes = {},
): Promise<readonly Standing[]> {
  const kind = await kindOf(out);
  if (kind === 'other') {
    throw badUse('The output folder cannot be used.', `${out}, which is a file`, 'a folder');
  }
  let place = kind === 'folder' ? out : dirname(out);
  while ((await kindOf(place)) === 'nothing' && dirname(place) !== place) place = dirname(place);
  if ((await kindOf(place)) !== 'folder') {
    throw badUse('The output folder cannot be made.', `${place}, which is a file`, 'a folder');
  }
  const found = await Promise.all(names.map((name) => standing(out, name, files[name])));
  try {
    await access(place, constants.W_OK);
  } catch {
    throw badUse(
      'Writing is not allowed there.',
      place,
      'a folder you may write to; see --out DIR',
    );
  }
  return found.filter((one) => one !== null);
}

async function standing(
  out: string,
  name: string,
  next: Buffer | undefined,
): Promise<Standing | null> {
  const path = join(out, name);
  const kind = await kindOf(path);
  if (kind === 'nothing') return null;
  if (kind === 'folder') {
    throw badUse('An output file cannot be written.', `a folder called ${path}`, 'a file');
  }
  const { mtime } = await stat(path);
  const content = await readFile(path);
  if (next?.equals(content) || isOurs(name, content))
    return { name, path, content, modified: mtime };
  throw badUse(
    'A file is in the way that is not of our making; it stays as it is.',
    path,
    'another output folder (--out DIR), or that file under another name',
  );
}

/** What stands under a path. */
export async function kindOf(path: string): Promise<'nothing' | 'folder' | 'other'> {
  try {
    return (await stat(path)).isDirectory() ? 'folder' : 'other';
  } catch (error) {
    const code = codeOf(error);
    if (code === 'ENOENT') return 'nothing';
    return code === 'ENOTDIR' ? 'nothing' : 'other';
  }
}
