import { mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { ConvertResult } from 'tslab/dist/converter.js';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { cellCompiler } from '../../src/notebook/cellCompiler.js';

// The kernel's compiler takes its time on a busy machine.
vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });

const cwd = fileURLToPath(new URL('../../notebooks', import.meta.url));
const before = process.cwd();
const kept = mkdtempSync(join(tmpdir(), 'meterpair-cells-'));
const CODE = 'const doubled = twice * 2;\nconsole.log(await Promise.resolve(doubled));';
const DECLARED = 'declare const twice: number;\n';

function compile(code: string, declared = DECLARED): ConvertResult {
  const compiler = cellCompiler(cwd, kept);
  try {
    return compiler.convert(declared, code);
  } finally {
    compiler.close();
  }
}

const file = (n = 0) => join(kept, readdirSync(kept).sort()[n] ?? '');

beforeAll(() => process.chdir(cwd));
afterAll(() => process.chdir(before));

test('what is kept is what the compiler gave, byte for byte, and is taken instead of it', () => {
  const fresh = compile(CODE);
  expect(fresh.hasToplevelAwait).toBe(true);
  expect(fresh.declOutput).toContain('declare const doubled: number');
  expect(readdirSync(kept)).toHaveLength(1);
  const hit = compile(CODE);
  expect(JSON.stringify(hit)).toBe(JSON.stringify(fresh));
  // A marked answer comes back, so it was read and not compiled again.
  const [, text = ''] = readFileSync(file(), 'utf8').split('\n');
  expect(JSON.parse(text)).toEqual(hit);
});

test.each([
  ['cut short', (text: string) => text.slice(0, -20)],
  ['with another byte', (text: string) => text.replace('doubled', 'doubted')],
  ['empty', () => ''],
])('a kept file that is %s is compiled again, and mended', (_what, spoil) => {
  const whole = readFileSync(file(), 'utf8');
  writeFileSync(file(), spoil(whole));
  expect(compile(CODE).output).toContain('doubled');
  expect(readFileSync(file(), 'utf8')).toBe(whole);
});

test('other declarations before it, or another cell, are another key', () => {
  compile(CODE, 'declare const twice: bigint;\ndeclare const other: string;\n');
  compile('const doubled = twice * 3;');
  expect(readdirSync(kept).length).toBeGreaterThanOrEqual(2);
});

test('a cell that does not compile, or leans on a file of its own, is not kept', () => {
  const count = readdirSync(kept).length;
  expect(compile('const wrong: number = "text";').diagnostics).not.toHaveLength(0);
  compile("import { something } from './nothing';");
  expect(readdirSync(kept)).toHaveLength(count);
});

test('a folder that cannot be written keeps nothing and compiles all the same', () => {
  const compiler = cellCompiler(cwd, join(file(), 'below a file'));
  expect(compiler.convert('', 'const one = 1;').output).toContain('one');
  compiler.close();
});
