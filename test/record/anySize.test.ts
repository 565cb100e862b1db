/** Input of any size and kind ends in an answer or in the one error, named, and soon. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, symlinkSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { MeterpairError } from '../../src/error.js';
import { readFactors } from '../../src/factors/readFactors.js';
import { fileText } from '../../src/record/fileText.js';
import { parseStudy } from '../../src/record/parseStudy.js';
import { readStudy } from '../../src/record/readStudy.js';
import { notFinite } from '../seriesStudy.js';

const METERS = { reference: { name: 'R' }, candidate: { name: 'C' } };
const sources = (count: number) =>
  Array.from({ length: count }, (_, i) => ({ name: `laser ${i}`, wavelength_nm: 520 }));
const SETTINGS = { ...METERS, sources: sources(1) };
const RUNS = 'meter,reading_mW\nreference,50\ncandidate,45\nreference,50.1\ncandidate,45.2\n';

function errorOf(run: () => unknown): MeterpairError {
  try {
    run();
  } catch (error) {
    if (error instanceof MeterpairError) return error;
    throw error;
  }
  throw new Error('nothing was refused');
}

describe('many faults are counted and ten of them told', () => {
  const many = Array.from({ length: 8000 }, (_, i) => i);

  test('8000 sources without a name', () => {
    const faulty = many.map((i) => ({ nam: `laser ${i}`, wavelength_nm: 520 }));
    const error = errorOf(() => parseStudy({ ...METERS, sources: faulty }, { runs: RUNS }));
    expect(error.message).toContain('"nam" looks like a misspelling of it');
    expect(error.message).toContain('7990 more faults are not shown');
  });

  test('8000 rows with names that are not known', () => {
    const rows = many.map((i) => `lasr ${i},${i % 2 ? 'candidate' : 'reference'},1`);
    const runs = `source,meter,reading_mW\n${rows.join('\n')}\n`;
    const error = errorOf(() => parseStudy({ ...METERS, sources: sources(8000) }, { runs }));
    expect(error.message).toContain('Did you mean "laser 0"?');
    expect(error.message.length).toBeLessThan(5000);
  });

  test('200 000 unknown fields: ten are named, the rest counted', () => {
    const extra = Object.fromEntries(Array.from({ length: 200_000 }, (_, i) => [`f${i}`, 1]));
    const { warnings } = parseStudy({ ...SETTINGS, ...extra }, { runs: RUNS });
    const unknown = warnings.filter(({ code }) => code === 'unknown-field');
    expect(unknown).toHaveLength(11);
    expect(unknown.at(-1)!.message).toContain('199990 more fields');
  });

  test('names of more than 200 characters are refused', () => {
    const long = 'a'.repeat(100_000);
    const named = { ...METERS, sources: [{ name: long, wavelength_nm: 520 }] };
    expect(errorOf(() => parseStudy(named, { runs: RUNS })).message).toContain('200 characters');
    const runs = `series,meter,reading_mW\n${long},reference,1\n`;
    expect(errorOf(() => parseStudy(SETTINGS, { runs })).message).toContain('200 characters');
  });
});

describe('what no handheld meter shows is refused', () => {
  test.each(['1e9', '1e-9'])('a reading of %s mW', (reading) => {
    const runs = `meter,reading_mW\nreference,${reading}\ncandidate,1\n`;
    const error = errorOf(() => parseStudy(SETTINGS, { runs }));
    expect(error).toMatchObject({ code: 'cell-out-of-range', row: 2, column: 'reading_mW' });
    expect(error.expected).toContain('1 nW to 100 kW');
  });

  test('a tolerance of 5e-324 %', () => {
    const error = errorOf(() =>
      parseStudy({ ...SETTINGS, tolerance_percent: 5e-324 }, { runs: RUNS }),
    );
    expect(error.code).toBe('study-field-wrong');
  });

  test('the least and the most in one study leave finite numbers', () => {
    const rows = ['1e8', '1e-6', '1e8', '1e-6'].map(
      (one, i) => `${i % 2 ? 'candidate' : 'reference'},${one}`,
    );
    const study = parseStudy(SETTINGS, { runs: `meter,reading_mW\n${rows.join('\n')}\n` });
    expect(notFinite(analyse(study))).toEqual([]);
  });
});

test('four runs of one meter, then four of the other, with the first lap discarded: no lap is left', () => {
  const rows = ['reference', 'candidate'].flatMap((meter) =>
    [0, 1, 2, 3].map((i) => `${meter},${(meter === 'reference' ? 50 : 45) + 0.1 * i}`),
  );
  const study = parseStudy(
    { ...SETTINGS, protocol: { discard_first_laps: 1 }, tolerance_percent: 0.5 },
    { runs: `meter,reading_mW\n${rows.join('\n')}\n` },
  );
  expect(notFinite(analyse(study))).toEqual([]);
});

test('UTF-16 that breaks off within a character', () => {
  const bytes = Uint8Array.from([0xff, 0xfe, 0x61, 0x00, 0x62]);
  const error = errorOf(() => fileText(bytes, 'runs.csv'));
  expect(error).toMatchObject({ code: 'file-unreadable', file: 'runs.csv' });
});

describe('only regular files are read', () => {
  const folder = () => {
    const path = mkdtempSync(join(tmpdir(), 'meterpair-test-'));
    writeFileSync(join(path, 'study.json'), JSON.stringify(SETTINGS));
    writeFileSync(join(path, 'runs.csv'), RUNS);
    return path;
  };

  test('a pipe, which never ends', async () => {
    const path = folder();
    execFileSync('mkfifo', [join(path, 'traces.csv')]);
    const refused = { code: 'file-unreadable', file: 'traces.csv' };
    await expect(readStudy(path)).rejects.toMatchObject(refused);
    await expect(readFactors(join(path, 'traces.csv'))).rejects.toMatchObject({
      code: refused.code,
    });
  });

  test('a link to a device', async () => {
    const path = folder();
    symlinkSync('/dev/zero', join(path, 'opinions.json'));
    await expect(readStudy(path)).rejects.toMatchObject({ code: 'file-unreadable' });
  });

  test('a link in a circle', async () => {
    const path = folder();
    symlinkSync('traces.csv', join(path, 'traces.csv'));
    await expect(readStudy(path)).rejects.toThrow(/leads back to itself/);
  });

  test('a file of 300 MiB, with the limit said', async () => {
    const path = folder();
    writeFileSync(join(path, 'traces.csv'), '');
    truncateSync(join(path, 'traces.csv'), 300 * 2 ** 20);
    await expect(readStudy(path)).rejects.toThrow(/at most 256 MiB/);
  });
});

describe('traces read without a text for every cell are the same', () => {
  const lines = [0, 0.1, 0.25, 1, 1, 12.5].map(
    (time, i) => `1,reference,${time},${[-0.02, 5, 12.25, 44, 44.1, 50][i]}`,
  );
  const heading = 'run,meter,elapsed_s,reading_mW';
  const tracesOf = (text: string) => parseStudy(SETTINGS, { runs: RUNS, traces: text }).traces;

  test('as with quotation marks, which are read cell by cell', () => {
    const quoted = lines.map((line) => line.replace('reference', '"reference"'));
    expect(tracesOf([heading, ...lines].join('\n'))).toEqual(
      tracesOf([heading, ...quoted].join('\n')),
    );
  });

  test('what is not plain is told with its row all the same', () => {
    const error = errorOf(() => tracesOf([heading, ...lines, '1,reference,3,50'].join('\r\n')));
    expect(error).toMatchObject({ file: 'traces.csv', row: 8, column: 'elapsed_s' });
  });
});
