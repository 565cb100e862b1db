/** The files of the bench on disk: read whole, replaced whole, never written over unseen. */

import { createHash, randomBytes } from 'node:crypto';
import { open, readdir, readFile, realpath, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { type ErrorParts, MeterpairError } from '../error.js';
import { throwFaults } from '../record/faults.js';
import { fileText } from '../record/fileText.js';
import { jsonValue } from '../record/jsonText.js';
import { codeOf } from '../record/regularFile.js';
import { writeWhole } from '../record/writeWhole.js';
import type { BenchFiles } from './bench.js';

const LEFTOVER = /^\.(?:runs|traces)\.csv\.[0-9a-f]{12}\.new$/;

export interface FolderFiles extends BenchFiles {
  /** Changes with every byte of any of the files. */
  readonly mark: string;
  /** runs.csv is not in UTF-8, which it is written in from the first entry on. */
  readonly encodingGuessed: boolean;
}

/** @throws file-missing, file-unreadable, study-json-invalid */
export async function readFolder(folder: string): Promise<FolderFiles> {
  const [study, runs, traces] = [
    await bytesOf(join(folder, 'study.json')),
    await bytesOf(join(folder, 'runs.csv')),
    await bytesOf(join(folder, 'traces.csv'), EMPTY),
  ];
  const faults: ErrorParts[] = [];
  const place = { code: 'study-json-invalid', file: 'study.json' } as const;
  const object = jsonValue(fileText(study, 'study.json').text, place, faults);
  throwFaults(faults);
  const { text, guessed } = fileText(runs, 'runs.csv');
  return {
    study: object,
    runs: text,
    ...(traces.length === 0 ? {} : { traces: fileText(traces, 'traces.csv').text }),
    mark: markOf(study, runs, traces),
    encodingGuessed: guessed,
  };
}

const EMPTY = new Uint8Array();

/** @param instead of a file that is not there */
async function bytesOf(path: string, instead?: Uint8Array): Promise<Uint8Array> {
  try {
    return await readFile(path);
  } catch (error) {
    const code = codeOf(error);
    const file = basename(path);
    if (code === 'ENOENT' && instead !== undefined) return instead;
    if (code === 'ENOENT') {
      const expected = `a file ${file} in ${dirname(path)}`;
      const message = 'The file is missing in the study folder.';
      throw new MeterpairError({ code: 'file-missing', file, message, expected });
    }
    const message = `This cannot be read (${code}).`;
    throw new MeterpairError({ code: 'file-unreadable', file, message });
  }
}

function markOf(...files: readonly Uint8Array[]): string {
  const hash = createHash('sha256');
  for (const bytes of files) hash.update(`${bytes.length}:`).update(bytes);
  return hash.digest('hex').slice(0, 32);
}

/** Whether the new text is in place; `changed`: somebody else wrote meanwhile, and nothing was touched. */
export type Replaced = 'replaced' | 'changed';

/**
 * Puts a new text in the place of a file: written beside it, forced to disk, then renamed. Whoever
 * is killed in between leaves the old file or the new one, never a part of one.
 *
 * @param mark of the files that the new text was made from
 */
export async function replaceFile(
  folder: string,
  name: 'runs.csv' | 'traces.csv',
  mark: string,
  text: string,
): Promise<Replaced> {
  // A link stays a link: its target is replaced.
  const path = await realpath(join(folder, name)).catch(() => join(folder, name));
  const beside = join(dirname(path), `.${name}.${randomBytes(6).toString('hex')}.new`);
  const { mode } = await stat(path).catch(() => ({ mode: 0o666 }));
  try {
    await writeWhole(beside, text, mode);
    // As late as can be: an editor may have saved while this was written.
    if ((await readFolder(folder)).mark !== mark) {
      await rm(beside, { force: true });
      return 'changed';
    }
    await rename(beside, path);
  } catch (error) {
    await rm(beside, { force: true });
    throw error;
  }
  await syncFolder(dirname(path));
  return 'replaced';
}

/** What a killed process has left beside runs.csv: half-written, and never read by anybody. */
export async function removeLeftovers(folder: string): Promise<void> {
  const place = dirname(await realpath(join(folder, 'runs.csv')));
  for (const name of await readdir(place)) {
    if (LEFTOVER.test(name)) await rm(join(place, name), { force: true });
  }
}

/** Without it the new name itself might not outlive a power cut. Not every system can do it. */
async function syncFolder(path: string): Promise<void> {
  try {
    const folder = await open(path, 'r');
    try {
      await folder.sync();
    } finally {
      await folder.close();
    }
  } catch (error) {
    if (!['EISDIR', 'EPERM', 'EACCES', 'EINVAL', 'ENOTSUP'].includes(codeOf(error))) throw error;
  }
}
