/** What the guide says that the commands print, against the commands: the evening is played once more. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { playTerminals, withTerminals } from '../../scripts/guide/terminals.mjs';

const GUIDE = readFileSync(new URL('../../docs/guide.md', import.meta.url), 'utf8');
const folder = mkdtempSync(join(tmpdir(), 'meterpair-guide-'));
let texts: readonly string[] = [];

beforeAll(async () => {
  texts = await playTerminals(folder);
}, 120_000);

afterAll(() => rmSync(folder, { recursive: true, force: true }));

test('the guide shows what the commands print, and every terminal in it is one of them', () => {
  expect(withTerminals(GUIDE, texts)).toBe(GUIDE);
  expect(GUIDE.match(/```console\n/g)).toHaveLength(texts.length);
});

test('a number that is not current is seen', () => {
  const stale = GUIDE.replace(/\n( +520 .*)1\.(\d+)/, '\n$19.$2');
  expect(stale).not.toBe(GUIDE);
  expect(withTerminals(stale, texts)).toBe(GUIDE);
  expect(() => withTerminals(GUIDE.replaceAll('$ npx', '$'), texts)).toThrow('no block');
});
