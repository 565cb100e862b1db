import { createHash } from 'node:crypto';
import { expect, test } from 'vitest';
import { dataSha256 } from '../../src/record/dataSha256.js';
import { linePieces } from '../../src/record/linePieces.js';
import { PLAIN, studyOf } from './support.js';

/** About 1 MB, lines of different length, with letters of two and four bytes. */
const lines = Array.from({ length: 40_000 }, (_, i) => `${'é😀x'.repeat(i % 7)};${i}\n`);
const text = lines.join('');

test('pieces are whole lines, many of them, and together the text from one place to the other', () => {
  const pieces = [...linePieces(text, lines[0]!.length, text.length)];
  expect(pieces.length).toBeGreaterThan(5);
  expect(pieces.join('')).toBe(lines.slice(1).join(''));
  expect(pieces.every((piece) => piece.endsWith('\n'))).toBe(true);
  expect([...linePieces(text, 3, 3)]).toEqual([]);
  expect([...linePieces('no end', 0, 6)]).toEqual(['no end']);
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
