/** Who gets an answer from the page's server, and what happens to the file. */
import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import { networkInterfaces } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, test } from 'vitest';
import { deskOf } from '../../src/measure/desk.js';
import { LOCK_FILE, takeLock } from '../../src/measure/lock.js';
import type { Request } from '../../src/measure/requests.js';
import { benchServer } from '../../src/measure/server.js';
import { SHEET, STUDY, shownRuns } from './evening.js';
import { askAt, http, runsOf, studyFolder, viewAt } from './folders.js';
import { entryOf } from './playing.js';

const EVENING = shownRuns();
const ending: (() => Promise<void>)[] = [];

afterEach(async () => {
  for (const end of ending.splice(0)) await end();
});

async function opened(folder = studyFolder(), compare = async () => true) {
  const complaints: unknown[] = [];
  const server = await benchServer({ html: '<p>page', script: '//', style: '' }, (error) =>
    complaints.push(error),
  );
  const lock = await takeLock(folder, server.port);
  server.serve(deskOf({ folder, wanted: null, lock, compare }));
  ending.push(async () => {
    lock.release();
    await server.close();
    rmSync(folder, { recursive: true, force: true });
    expect(complaints).toEqual([]);
  });
  return { folder, ...server, origin: new URL(server.address).origin };
}

/** The entry of run `n` against what the server says is next. */
async function entry(address: string, n: number, more: Partial<Request> = {}): Promise<Request> {
  const { mark, state } = await viewAt(address);
  if (state === null) throw new Error('faults');
  return { do: 'enter', mark, ...entryOf(state, EVENING[n]!, n), ...more } as Request;
}

describe('an answer is given', () => {
  test('to the token alone, and to nothing but the page, its script, its style and the state', async () => {
    const { address, port } = await opened();
    const of = async (path: string) => (await http(address, { path })).status;
    const { pathname } = new URL(address);
    const names = ['', 'page.js', 'style.css', 'state'];
    expect(await Promise.all(names.map((name) => of(`${pathname}${name}`)))).toEqual([
      200, 200, 200, 200,
    ]);
    const hostile = [
      '/',
      '/state',
      `/${'x'.repeat(pathname.length - 2)}/`,
      `${pathname}runs.csv`,
      `${pathname}study.json`,
      `${pathname}../../../etc/passwd`,
      `${pathname}%2e%2e/runs.csv`,
      `/.${pathname}`,
      `${pathname}state/`,
      `http://127.0.0.1:${port}${pathname}`,
    ];
    for (const path of hostile) expect([path, await of(path)]).toEqual([path, 404]);
    expect(pathname.length).toBeGreaterThan(32);
  });

  test('to this host alone, whatever name a page has led the browser by', async () => {
    const { address, port } = await opened();
    for (const Host of ['localhost', `localhost:${port}`, '127.0.0.1', `evil.example:${port}`]) {
      expect([Host, (await http(address, { headers: { Host } })).status]).toEqual([Host, 403]);
    }
  });

  test('to pages of its own origin alone, and no writing without one', async () => {
    const { address, origin } = await opened();
    const of = async (method: string, headers: Record<string, string>) =>
      (
        await http(method === 'GET' ? address : `${address}ask`, {
          method,
          headers,
          ...(method === 'GET' ? {} : { body: '{}' }),
        })
      ).status;
    expect(await of('GET', { Origin: origin })).toBe(200);
    for (const Origin of ['http://evil.example', 'null', origin.replace('http', 'https')]) {
      expect(await of('GET', { Origin })).toBe(403);
      expect(await of('POST', { Origin, 'Content-Type': 'application/json' })).toBe(403);
    }
    expect(await of('POST', { 'Content-Type': 'application/json' })).toBe(403);
  });

  test('on 127.0.0.1 and no other address of this machine', async () => {
    const { port } = await opened();
    const reached = (host: string) =>
      new Promise<boolean>((done) => {
        const socket = connect({ host, port });
        socket.once('connect', () => {
          socket.destroy();
          done(true);
        });
        socket.once('error', () => done(false));
      });
    const others = Object.values(networkInterfaces())
      .flatMap((list) => list ?? [])
      .filter(({ address }) => address !== '127.0.0.1' && !address.startsWith('fe80'))
      .map(({ address }) => address);
    for (const other of [...others, '::1', '127.0.0.2']) {
      expect([other, await reached(other)]).toEqual([other, false]);
    }
    expect(await reached('127.0.0.1')).toBe(true);
  });

  test('with headers that let nothing foreign in', async () => {
    const { address } = await opened();
    const { headers } = await http(address);
    expect(headers['content-security-policy']).toContain("default-src 'none'");
    expect(headers['cache-control']).toBe('no-store');
    expect(headers['referrer-policy']).toBe('no-referrer');
  });

  test.each([
    ['plain text', 415, 'text/plain', '{}'],
    ['no JSON', 400, 'application/json', '{'],
    ['no request of the page', 400, 'application/json', '{"do":"format-disk"}'],
    ['a field too many', 400, 'application/json', '{"do":"close","mark":"","x":1}'],
    ['too long', 413, 'application/json', `"${'x'.repeat(50_000)}"`],
  ])('and not to %s', async (_, status, type, body) => {
    const { address, origin, folder } = await opened();
    const headers = { Origin: origin, 'Content-Type': type };
    expect((await http(`${address}ask`, { method: 'POST', headers, body })).status).toBe(status);
    expect(runsOf(folder)).toBe(SHEET);
  });
});

describe('the file', () => {
  test('has the entry before the page shows it', async () => {
    const { address, folder } = await opened();
    const reply = await askAt(address, await entry(address, 0));
    expect(reply.kind).toBe('done');
    expect(runsOf(folder)).toContain(`reference,${EVENING[0]!.reading},`);
    expect(reply.kind === 'done' && reply.view.state?.step).toMatchObject({ row: 3 });
    expect(readdirSync(folder).sort()).toEqual([LOCK_FILE, 'runs.csv', 'study.json']);
  });

  test('takes one of two tabs that fill the same row at once', async () => {
    const { address, folder } = await opened();
    const request = await entry(address, 0);
    const replies = await Promise.all([askAt(address, request), askAt(address, request)]);
    expect(replies.map(({ kind }) => kind).sort()).toEqual(['done', 'refused']);
    expect((await viewAt(address)).state?.runs.length).toBe(1);
    expect(runsOf(folder).split('\n').length).toBe(SHEET.split('\n').length);
  });

  test('that was edited meanwhile is read again and not written over', async () => {
    const { address, folder } = await opened();
    await askAt(address, await entry(address, 0));
    const before = await entry(address, 1);
    const edited = runsOf(folder).replace(',lap 1\n', ',a note from the spreadsheet\n');
    writeFileSync(join(folder, 'runs.csv'), edited);
    expect(await askAt(address, before)).toMatchObject({ kind: 'refused' });
    expect(runsOf(folder)).toBe(edited);
    expect((await askAt(address, await entry(address, 1))).kind).toBe('done');
    expect(runsOf(folder)).toContain('a note from the spreadsheet');
  });

  test('that cannot be read is said to be so, and mended it goes on', async () => {
    const { address, folder } = await opened();
    const request = await entry(address, 0);
    writeFileSync(join(folder, 'runs.csv'), SHEET.replace('reading_mW', 'readng_mW'));
    const view = await viewAt(address);
    expect(view.state).toBeNull();
    expect(view.faults.join()).toContain('reading_mW');
    expect((await askAt(address, request)).kind).toBe('refused');
    rmSync(join(folder, 'runs.csv'));
    expect((await viewAt(address)).faults.join()).toContain('no such file');
    execFileSync('mkfifo', [join(folder, 'runs.csv')]);
    expect((await viewAt(address)).faults.join()).toContain('a pipe or a device');
    rmSync(join(folder, 'runs.csv'));
    writeFileSync(join(folder, 'runs.csv'), SHEET);
    expect((await viewAt(address)).state?.step.do).toBe('run');
  });

  test('behind a link stays behind it', async () => {
    const elsewhere = studyFolder();
    const folder = studyFolder(null);
    symlinkSync(join(elsewhere, 'runs.csv'), join(folder, 'runs.csv'));
    const { address } = await opened(folder);
    expect((await askAt(address, await entry(address, 0))).kind).toBe('done');
    expect(runsOf(elsewhere)).toContain(EVENING[0]!.reading);
    rmSync(elsewhere, { recursive: true, force: true });
  });

  test('is left alone when the lock is gone', async () => {
    const { address, folder } = await opened();
    const request = await entry(address, 0);
    rmSync(join(folder, LOCK_FILE));
    expect(await askAt(address, request)).toMatchObject({ kind: 'refused' });
    expect(runsOf(folder)).toBe(SHEET);
  });

  test('with hostile names gives them as data, and writes them back as they were', async () => {
    const name = '<script>alert(1)</script>"; \u202e=cmd|x!A1';
    const study = { ...STUDY, title: name, sources: [{ name, wavelength_nm: 520 }] };
    const runs = `source,meter,reading_mW,note\n"${name.replaceAll('"', '""')}",reference,,=1+1\n"${name.replaceAll('"', '""')}",candidate,,\n`;
    const { address, folder } = await opened(studyFolder(runs, study));
    const { state, mark } = await viewAt(address);
    expect(state?.title).toBe(name);
    const reply = await askAt(address, {
      do: 'enter',
      mark,
      ...entryOf(state!, EVENING[0]!, 0),
      zero: '',
      peak: '',
    });
    expect(reply.kind).toBe('done');
    expect(runsOf(folder)).toContain(`"${name.replaceAll('"', '""')}",reference,`);
    expect((await http(address)).body).not.toContain('alert');
  });
});

describe('the comparison at the end', () => {
  test('runs once, and its lines and its end are told', async () => {
    let end: (good: boolean) => void = () => undefined;
    const { address } = await opened(
      studyFolder(),
      () => new Promise<boolean>((done) => (end = done)),
    );
    const { mark } = await viewAt(address);
    expect((await askAt(address, { do: 'compare', mark })).kind).toBe('done');
    expect((await askAt(address, { do: 'compare', mark })).kind).toBe('refused');
    const before = await viewAt(address);
    end(true);
    await new Promise((done) => setTimeout(done, 20));
    const after = await viewAt(address);
    expect([before.comparison?.state, after.comparison?.state]).toEqual(['running', 'done']);
    expect(after.version).not.toBe(before.version);
  });
});

test('the lock goes with the process that had it', async () => {
  const { folder } = await opened();
  for (const end of ending.splice(0)) await end();
  expect(existsSync(join(folder, LOCK_FILE))).toBe(false);
});
