import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { hostname, tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { LOCK_FILE, takeLock } from '../../src/measure/lock.js';
import { errorLater } from '../record/support.js';

const server = createServer();
const folders: string[] = [];

beforeAll(() => new Promise<void>((done) => server.listen(0, '127.0.0.1', done)));
afterAll(() => {
  server.close();
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});

function port(): number {
  const address = server.address();
  return typeof address === 'object' && address !== null ? address.port : 0;
}

function folderWith(lock?: string): string {
  const folder = mkdtempSync(join(tmpdir(), 'meterpair-lock-'));
  folders.push(folder);
  if (lock !== undefined) writeFileSync(join(folder, LOCK_FILE), lock);
  return folder;
}

/** A process that has ended. */
const dead = spawnSync(process.execPath, ['-e', '']).pid;
const written = (more: object) =>
  JSON.stringify({ host: hostname(), pid: process.pid, port: port(), key: 'k', ...more });

describe('a lock is refused', () => {
  test('while its holder lives and answers', async () => {
    const folder = folderWith();
    const lock = await takeLock(folder, port());
    const error = await errorLater(takeLock(folder, port()));
    expect(error.message).toContain(`process ${process.pid}`);
    lock.release();
    (await takeLock(folder, port())).release();
    expect(existsSync(join(folder, LOCK_FILE))).toBe(false);
  });

  test('on another machine, of which nothing can be asked', async () => {
    const folder = folderWith(written({ host: 'elsewhere', pid: dead }));
    expect((await errorLater(takeLock(folder, port()))).message).toContain('elsewhere');
  });

  test('where nothing can be written', async () => {
    const error = await errorLater(takeLock(join(folderWith(), 'nothing'), port()));
    expect(error).toMatchObject({ code: 'command-line' });
  });
});

describe('a lock is taken over', () => {
  test.each([
    ['from a dead process', () => written({ pid: dead })],
    ['from a process whose number another one has now', () => written({ port: 1 })],
    ['that was cut short', () => '{"host":"'],
    ['that is empty', () => ''],
    ['that holds something else', () => '[1]'],
  ])('%s', async (_, text) => {
    const folder = folderWith(text());
    const lock = await takeLock(folder, port());
    expect(await lock.held()).toBe(true);
    lock.release();
    expect(readdirSync(folder)).toEqual([]);
  });

  test('by one of many that come at once', async () => {
    for (let round = 0; round < 10; round += 1) {
      const folder = folderWith(written({ pid: dead }));
      const all = await Promise.allSettled(
        Array.from({ length: 8 }, () => takeLock(folder, port())),
      );
      const locks = all.flatMap((one) => (one.status === 'fulfilled' ? [one.value] : []));
      const held = await Promise.all(locks.map((lock) => lock.held()));
      expect(held.filter(Boolean).length).toBe(1);
    }
  });
});
