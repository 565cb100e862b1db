import { createHash } from 'node:crypto';
import { existsSync, mkdtempSync, readdirSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { dataSha256 } from '../../src/record/dataSha256.js';
import { fileText } from '../../src/record/fileText.js';
import { linePieces, tableFile, tableText } from '../../src/record/tableText.js';
import { PLAIN, studyOf } from './support.js';

/** About 1 MB, lines of different length, with letters of two and four bytes. */
const lines = Array.from({ length: 40_000 }, (_, i) => `${'é😀x'.repeat(i % 7)};${i}\n`);
const text = lines.join('');

test('pieces are whole lines, many of them, and together the text', () => {
  const pieces = [...linePieces(text)];
  expect(pieces.length).toBeGreaterThan(5);
  expect(pieces.join('')).toBe(text);
  expect(pieces.every((piece) => piece.endsWith('\n'))).toBe(true);
  expect([...linePieces('')]).toEqual([]);
  expect([...linePieces('no end')]).toEqual(['no end']);
});

test('the fingerprint of a long table is that of all of it, without the white space at its end', () => {
  const whole = createHash('sha256')
    .update(`study.json\n{}\nruns.csv\n${text.trimEnd()}\n`, 'utf8')
    .digest('hex');
  const content = { study: {}, traces: undefined, opinions: undefined };
  expect(dataSha256({ ...content, runs: text })).toBe(whole);
  expect(
    dataSha256({ ...content, runs: `\uFEFF${text.replaceAll('\n', '\r\n')}\n \u00a0\n` }),
  ).toBe(whole);
});

test('traces of several runs, mixed and longer than a piece, are those that are read cell by cell', () => {
  const runs = 'meter,reading_mW\nreference,5\ncandidate,4';
  const rows = Array.from({ length: 12_000 }, (_, i) => {
    // Turns of one reading, then one run for thousands of them.
    const first = i < 3000 ? i % 2 === 0 : i % 8000 < 5000;
    return `${first ? '1,reference' : '2,candidate'},${i / 10},${(i % 977) / 100}`;
  });
  const read = (space: string) =>
    studyOf(runs, PLAIN, {
      traces: `run,meter,elapsed_s,reading_mW\n${rows.join('\n')}${space}\n`,
    });
  const plain = read('').traces;
  expect(plain.map(({ elapsed_s }) => elapsed_s.length).reduce((a, b) => a + b)).toBe(12_000);
  expect(plain).toEqual(read(' ').traces);
});

describe('a table in a file', () => {
  const folder = mkdtempSync(join(tmpdir(), 'meterpair-test-'));
  const path = join(folder, 'traces.csv');
  const written = (bytes: string | Uint8Array) => {
    writeFileSync(path, bytes);
    return tableFile(path, 'traces.csv');
  };

  test.each([
    ['lines of letters of any length', text],
    ['CR LF and a mark of the byte order', `\uFEFF${text.replaceAll('\n', '\r\n')}`],
    ['no line end at its end', text.trimEnd()],
    ['a line longer than a piece', `${'x'.repeat(300_000)}\n\uFEFF1\n`],
    ['nothing', ''],
  ])('has the same pieces put together as its text: %s', async (_what, content) => {
    const file = await written(content);
    const same = tableText(fileText(Buffer.from(content), 'traces.csv').text);
    expect([...file.pieces()].join('')).toBe([...same.pieces()].join(''));
    expect(file.whole()).toBe(same.whole());
    expect(file.guessed).toBe(false);
    for (const piece of [...file.pieces()].slice(0, -1)) expect(piece.endsWith('\n')).toBe(true);
  });

  test('is decoded at once where it is not UTF-8', async () => {
    const old = await written(Uint8Array.from([0x67, 0x72, 0xfc, 0x6e, 0x0a]));
    expect([[...old.pieces()], old.whole(), old.guessed]).toEqual([['grün\n'], 'grün\n', true]);
    const wide = await written(Buffer.from('\uFEFFgrün\n', 'utf16le'));
    expect([[...wide.pieces()], wide.guessed]).toEqual([['grün\n'], false]);
  });

  test('is refused where something wrote to it meanwhile', async () => {
    const file = await written('a\n');
    writeFileSync(path, 'a\nb\n');
    expect(() => [...file.pieces()]).toThrow('The file changed while it was read.');
  });

  test.skipIf(!existsSync('/proc/self/fd'))(
    'is closed again where nobody reads to its end',
    async () => {
      const file = await written(text);
      const open = () => readdirSync('/proc/self/fd').length;
      const before = open();
      for (let i = 0; i < 50; i++) {
        const [first = ''] = file.pieces();
        expect(first.length).toBeGreaterThan(0);
      }
      expect(open()).toBe(before);
    },
  );
});
