/** The files of the bench on disk: read whole, replaced whole, never written over unseen. */

import { createHash, randomBytes } from 'node:crypto';
import { open, readdir, realpath, rename, rm, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { MeterpairError } from '../error.js';
import { fileText } from '../record/fileText.js';
import { codeOf, regularFile } from '../record/regularFile.js';
import { studyValue } from '../record/studySettings.js';
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
    await bytesOf(folder, 'study.json'),
    await bytesOf(folder, 'runs.csv'),
    await bytesOf(folder, 'traces.csv', EMPTY),
  ];
  const object = studyValue(fileText(study, 'study.json').text);
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
async function bytesOf(folder: string, name: string, instead?: Uint8Array): Promise<Uint8Array> {
  const found = regularFile(join(folder, name), name, `a file ${name} in ${folder}`);
  return found.catch((error: unknown) => {
    const missing = error instanceof MeterpairError && error.code === 'file-missing';
    if (missing && instead !== undefined) return instead;
    throw error;
  });
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
