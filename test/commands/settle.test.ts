import { cpSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { runCommand } from './run.js';

const DEMO = join(import.meta.dirname, '../../data-demo/3-settling');

/** Of the virtual bench that made the demo (src/simulate/demo/settling.ts). */
const TRUE_S = { reference: 1.8, candidate: 6.5 };

const run = (...args: readonly string[]) => runCommand(tmpdir(), ['settle', ...args]);

test('the demo: the true time constants lie in the intervals, and the wait follows from them', async () => {
  const { code, out } = await run(DEMO);
  expect(code).toBe(0);
  for (const meter of ['reference', 'candidate'] as const) {
    const line = out.split('\n').find((text) => text.includes(`The ${meter}:`)) ?? '';
    const [, tau, U] = /time constant \(([\d.]+) ± ([\d.]+)\)/.exec(line) ?? [];
    const [, wait] = /; (\d+) s after switch-on at most 1 % is missing/.exec(line) ?? [];
    const known = TRUE_S[meter];
    expect(Math.abs(Number(tau) - known)).toBeLessThanOrEqual(Number(U));
    // ln 100 times the upper end of τ, rounded up.
    const most = Math.log(100) * (Number(tau) + Number(U));
    expect(Math.abs(Number(wait) - most)).toBeLessThan(1.2);
  }
  expect(out).toMatch(/Read both meters no earlier than \d+ s/);
});

test('a value that is an average over a time is held against a trace as long', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'meterpair-settle-'));
  cpSync(DEMO, folder, { recursive: true });
  const { sources } = JSON.parse(readFileSync(join(folder, 'study.json'), 'utf8'));
  const opinion = { source: sources[0].name, kind: 'maker', value_mW: 150 };
  const write = (averaged_over_s: number) =>
    writeFileSync(join(folder, 'opinions.json'), JSON.stringify([{ ...opinion, averaged_over_s }]));
  write(30);
  expect((await run(folder)).out).toMatch(
    /150.0 mW as an average over 30 s \(maker\); this reference shows [\d.]+ mW/,
  );
  write(30_000);
  expect((await run(folder)).out).toMatch(/this trace is only \d+ s long/);
});

test.each([
  [[], 'Which study'],
  [[DEMO, '--may-lack', '0'], '--may-lack'],
  [[DEMO, '--within', '200'], 'less than 100'],
  [[join(DEMO, '../2-side-by-side')], 'no trace'],
  [['nowhere'], 'nowhere'],
])('%j is refused with 2', async (args, said) => {
  const { code, out, err } = await run(...args);
  expect({ code, out }).toEqual({ code: 2, out: '' });
  expect(err).toContain(said);
});

test('how much may be missing is taken from the command line, up to all of it', async () => {
  const of = async (percent: string) => (await run(DEMO, '--may-lack', percent)).out;
  expect(await of('5')).toMatch(/; \d+ s after switch-on at most 5 % is missing/);
  expect(await of('99,5')).toMatch(
    /after switch-on at most 99.* % is missing|after switch-on at most 100 % is missing/,
  );
});
