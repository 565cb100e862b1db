/** One writer at a time: a file in the study folder that says who measures there. */
import { randomBytes } from 'node:crypto';
import { readFileSync, rmSync } from 'node:fs';
import { link, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { connect } from 'node:net';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { MeterpairError } from '../error.js';
import { isRunning } from '../record/isRunning.js';
import { codeOf } from '../record/regularFile.js';

export const LOCK_FILE = '.meterpair-measure.lock';

/** Longer than a busy machine takes to accept a connection. */
const PATIENCE_MS = 2000;
const TRIES = 5;

export interface Lock {
  /** Whether the folder is still ours; checked before every write. */
  readonly held: () => Promise<boolean>;
  /** At once, for a process that is being stopped. */
  readonly release: () => void;
}

/**
 * Takes the folder for this process. A holder counts as long as its process lives *and* answers on its
 * port: a dead process keeps nothing, even where its number has been given to another one.
 *
 * @param port of the server of this process
 * @throws command-line when somebody measures there
 */
export async function takeLock(folder: string, port: number): Promise<Lock> {
  const path = join(folder, LOCK_FILE);
  const own = JSON.stringify({
    host: hostname(),
    pid: process.pid,
    port,
    key: randomBytes(8).toString('hex'),
  });
  for (let attempt = 0; attempt < TRIES; attempt += 1) {
    try {
      await writeFile(path, own, { flag: 'wx' });
      return { held: () => isOurs(path, own), release: () => release(path, own) };
    } catch (error) {
      if (codeOf(error) !== 'EEXIST') throw notAllowed(folder, error);
    }
    const there = await readFile(path, 'utf8').catch(() => null);
    if (there === null) continue;
    if (await alive(there)) throw taken(path, there);
    await removeDead(path, there);
  }
  throw taken(path, await readFile(path, 'utf8').catch(() => ''));
}

async function isOurs(path: string, own: string): Promise<boolean> {
  return (await readFile(path, 'utf8').catch(() => null)) === own;
}

function release(path: string, own: string): void {
  try {
    if (readFileSync(path, 'utf8') === own) rmSync(path, { force: true });
  } catch {
    // It is gone already.
  }
}

/** Moved away under a name of its own, so that a lock that somebody took meanwhile is not lost. */
async function removeDead(path: string, dead: string): Promise<void> {
  const aside = `${path}.${randomBytes(6).toString('hex')}`;
  try {
    await rename(path, aside);
  } catch {
    return;
  }
  if ((await readFile(aside, 'utf8').catch(() => dead)) !== dead) {
    await link(aside, path).catch(() => undefined);
  }
  await rm(aside, { force: true });
}

interface Holder {
  readonly host: string;
  readonly pid: number;
  readonly port: number;
}

function holderOf(text: string): Holder | null {
  try {
    const { host, pid, port }: Readonly<Record<string, unknown>> = JSON.parse(text);
    if (typeof host !== 'string' || typeof pid !== 'number' || typeof port !== 'number')
      return null;
    return { host, pid, port };
  } catch {
    return null;
  }
}

async function alive(text: string): Promise<boolean> {
  const holder = holderOf(text);
  // Cut short by a crash while it was written: nobody holds it.
  if (holder === null) return false;
  // Nothing can be asked of another machine on a shared drive, so its word counts.
  if (holder.host !== hostname()) return true;
  return isRunning(holder.pid) && (await answers(holder.port));
}

/** A process that is stopped still has its port; only a refused connection says that nobody is there. */
function answers(port: number): Promise<boolean> {
  return new Promise((done) => {
    const socket = connect({ host: '127.0.0.1', port });
    const end = (value: boolean) => {
      socket.destroy();
      done(value);
    };
    socket.setTimeout(PATIENCE_MS, () => end(true));
    socket.once('connect', () => end(true));
    socket.once('error', () => end(false));
  });
}

function taken(path: string, text: string): MeterpairError {
  const holder = holderOf(text);
  const who = holder === null ? '' : ` on ${holder.host} (process ${holder.pid})`;
  return new MeterpairError({
    code: 'command-line',
    message: `Somebody measures in this folder already${who}, and there is one writer at a time.`,
    found: path,
    expected:
      'the page that is open already; or that process ended, or the lock file removed if it is gone',
  });
}

function notAllowed(folder: string, error: unknown): MeterpairError {
  return new MeterpairError({
    code: 'command-line',
    message: `Nothing can be written into the study folder (${codeOf(error)}).`,
    found: folder,
    expected: 'a folder you may write to',
  });
}
