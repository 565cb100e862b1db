import { randomBytes } from 'node:crypto';
import {
  copyFileSync,
  existsSync,
  linkSync,
  mkdirSync,
  readdirSync,
  renameSync,
  rmSync,
  unlinkSync,
} from 'node:fs';
import { mkdir, realpath } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { MeterpairError } from '../error.js';
import { isRunning } from '../record/isRunning.js';
import { codeOf } from '../record/regularFile.js';
import { writeWhole } from '../record/writeWhole.js';
import type { Io } from './io.js';
import { checkOutputFolder, kindOf, type Standing } from './outputFolder.js';
import { type FileBytes, isChanged, type OutputFiles, sealedFiles } from './seal.js';

export interface OutputSet {
  readonly files: OutputFiles;
  /** Every name that may belong to the set, those that are not written this time included. */
  readonly names: readonly string[];
  /** The files that carry the answer: where these are the same, the set says the same. */
  readonly answer: readonly string[];
}

/** Begins the names of what is not yet in place; the number of the process follows. */
const WAITING = '.meterpair-';

/**
 * Puts a set of files into a folder, all or none, and loses nothing that was there.
 *
 * They are written beside first and forced to the disk, and take their places when all are whole.
 * An earlier set that says something else goes whole into a folder of its own, `earlier-` and its
 * date, and so does a file that somebody has worked on. What an interrupted run leaves is removed
 * by the next one.
 *
 * @returns the folder into which earlier files went, which `io.out` says too; `null` where none had to
 * @throws file-unwritable; command-line as `checkOutputFolder`
 */
export async function writeOutputs(
  out: string,
  set: OutputSet,
  io: Pick<Io, 'onStop' | 'out'>,
): Promise<string | null> {
  const there = (await kindOf(out)) === 'folder';
  const target = there ? await realpath(out) : out;
  const files = sealedFiles(set.files);
  const undo: string[] = [];
  const clean = () => {
    for (const path of undo) rmSync(path, { recursive: true, force: true });
  };
  const done = io.onStop(clean);
  try {
    const waiting = await writeBeside(target, there, files, undo).catch((error: unknown) => {
      throw unwritable(error, out);
    });
    if (there) {
      // The files in the way are read first: from then on nothing waits, so that no signal comes between.
      const standing = await checkOutputFolder(target, set.names, files);
      const earlier = intoPlace(target, waiting, files, set.answer, standing);
      if (earlier !== null) io.out(`What stood there before is kept in ${earlier}\n`);
      return earlier;
    }
    renameSync(waiting, target);
    undo.length = 0;
    return null;
  } finally {
    done();
    clean();
  }
}

/** The same for one file that goes where somebody asked for it. */
export async function writeOutput(
  path: string,
  text: string,
  io: Pick<Io, 'onStop' | 'out'>,
): Promise<void> {
  const names = [basename(path)];
  await writeOutputs(
    dirname(path),
    { files: { [basename(path)]: text }, names, answer: names },
    io,
  );
}

/**
 * The files in a folder of their own: inside the output folder, or beside it where it is still to
 * be made.
 *
 * @param undo takes up what is made on the way, for removing it
 */
async function writeBeside(
  target: string,
  there: boolean,
  files: FileBytes,
  undo: string[],
): Promise<string> {
  const around = there ? target : dirname(target);
  const made = await mkdir(around, { recursive: true });
  if (made !== undefined) undo.push(made);
  removeLeftBehind(around);
  const waiting = join(around, `${WAITING}${process.pid}-${randomBytes(4).toString('hex')}`);
  await mkdir(waiting);
  undo.push(waiting);
  for (const [name, bytes] of Object.entries(files)) {
    await writeWhole(join(waiting, name), bytes);
  }
  return waiting;
}

function intoPlace(
  target: string,
  waiting: string,
  files: FileBytes,
  answer: readonly string[],
  standing: readonly Standing[],
): string | null {
  const isAsBefore = ({ name, content }: Standing) => files[name]?.equals(content);
  const unchanged = standing.filter(isAsBefore).map(({ name }) => name);
  const same = answer.every((name) => unchanged.includes(name));
  const kept = standing.filter(
    ({ name, content }) => !same || (!unchanged.includes(name) && isChanged(name, content)),
  );
  const earlier = kept.length === 0 ? null : keepEarlier(target, waiting, kept);
  // First the old ones go, whole in their new place: no moment shows files of two answers.
  for (const { name } of kept) unlinkSync(join(target, name));
  for (const name of Object.keys(files)) renameSync(join(waiting, name), join(target, name));
  return earlier;
}

/** A second name for each file in a folder that appears at once. */
function keepEarlier(target: string, waiting: string, kept: readonly Standing[]): string {
  const folder = join(waiting, 'earlier');
  mkdirSync(folder);
  for (const { name } of kept) {
    try {
      linkSync(join(target, name), join(folder, name));
    } catch {
      copyFileSync(join(target, name), join(folder, name));
    }
  }
  const date = localDate(kept.find(({ name }) => name === 'result.json') ?? kept[0]);
  for (let count = 1; ; count += 1) {
    const place = join(target, count === 1 ? `earlier-${date}` : `earlier-${date}-${count}`);
    if (existsSync(place)) continue;
    renameSync(folder, place);
    return place;
  }
}

function localDate(file: Standing | undefined): string {
  const time = file?.modified ?? new Date(0);
  return new Date(time.getTime() - 60_000 * time.getTimezoneOffset()).toISOString().slice(0, 10);
}

/** What a killed run left: its process is no more. */
function removeLeftBehind(folder: string): void {
  for (const name of readdirSync(folder)) {
    const pid = /^\.meterpair-(\d+)-/.exec(name)?.[1];
    if (pid === undefined || isRunning(Number(pid))) continue;
    rmSync(join(folder, name), { recursive: true, force: true });
  }
}

const REASONS: Readonly<Record<string, string>> = {
  ENOSPC: 'The disk is full.',
  EDQUOT: 'Your share of the disk is full.',
  EFBIG: 'A file would be larger than is allowed here.',
  EROFS: 'The disk is read-only.',
  EACCES: 'Writing is not allowed there.',
  EPERM: 'Writing is not allowed there.',
};

function unwritable(error: unknown, out: string): unknown {
  const code = codeOf(error);
  if (error instanceof MeterpairError || code === '') return error;
  return new MeterpairError({
    code: 'file-unwritable',
    message: `${REASONS[code] ?? `The files cannot be written (${code}).`} Nothing was changed there.`,
    found: out,
    expected: 'room for a few megabytes in a folder you may write to; see --out DIR',
  });
}
