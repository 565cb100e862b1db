import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { parseStudy } from '../../src/record/parseStudy.js';
import { readStudy } from '../../src/record/readStudy.js';
import { mean, standardDeviation } from '../../src/statistics/summary.js';
import { codesOf, errorLater, PLAIN, TIDY } from './support.js';

let root = '';
let count = 0;
beforeAll(async () => {
  root = await mkdtemp(join(tmpdir(), 'read-study-'));
});
afterAll(() => rm(root, { recursive: true, force: true }));

async function folderOf(files: Readonly<Record<string, string | Uint8Array>>): Promise<string> {
  count += 1;
  const folder = join(root, String(count));
  await mkdir(folder);
  for (const [name, content] of Object.entries(files)) await writeFile(join(folder, name), content);
  return folder;
}

const STUDY = JSON.stringify(PLAIN);
const TRACES = 'run,meter,elapsed_s,reading_mW\n1,reference,0,5\n';
const OPINIONS = '[{ "source": "green", "kind": "maker", "value_mW": 50 }]';

describe('published data', () => {
  const differences = async (name: string): Promise<number[][]> => {
    const study = await readStudy(join(import.meta.dirname, '../published/studies', name));
    expect(study.series).toHaveLength(17);
    return study.series.map(({ runs }) => {
      const laps = Math.max(...runs.map((run) => run.lap ?? 0));
      return Array.from({ length: laps }, (_, lap) => {
        const of = (meter: string) =>
          runs.find((run) => run.lap === lap + 1 && run.meter === meter)?.reading_mW ?? Number.NaN;
        return of('candidate') - of('reference');
      });
    });
  };

  test('first readings have the printed mean difference and standard deviation', async () => {
    const first = (await differences('peak-flow-1986')).map(
      ([difference = Number.NaN]) => difference,
    );
    // Bland and Altman 1986, Lancet 327, p. 308: mean difference −2.1 l/min, SD 38.8 l/min; half a
    // unit of the last printed digit. The readings: table on p. 307.
    expect(Math.abs(mean(first) - -2.1)).toBeLessThanOrEqual(0.05);
    expect(Math.abs(standardDeviation(first) - 38.8)).toBeLessThanOrEqual(0.05);
  });

  test('means of both readings have the printed standard deviation of differences', async () => {
    const both = await differences('peak-flow-1986-repeated');
    expect(both.every((laps) => laps.length === 2)).toBe(true);
    // Bland and Altman 1986, p. 309 (from memory): 33.2 l/min; half a unit of the last digit.
    expect(Math.abs(standardDeviation(both.map((laps) => mean(laps))) - 33.2)).toBeLessThanOrEqual(
      0.05,
    );
  });
});

describe('from disk', () => {
  test('a folder gives the same study as its content', async () => {
    const folder = await folderOf({
      'study.json': STUDY,
      'runs.csv': TIDY,
      'traces.csv': TRACES,
      'opinions.json': OPINIONS,
      'notes.txt': 'not read',
    });
    const study = await readStudy(folder);
    expect(study.traces).toHaveLength(1);
    expect(study.opinions).toHaveLength(1);
    expect(study).toEqual(
      parseStudy(PLAIN, { runs: TIDY, traces: TRACES, opinions: JSON.parse(OPINIONS) }),
    );
  });

  test('traces and opinions may be missing', async () => {
    const study = await readStudy(await folderOf({ 'study.json': STUDY, 'runs.csv': TIDY }));
    expect(study).toEqual(parseStudy(PLAIN, { runs: TIDY }));
  });

  test('byte-order marks and CRLF change nothing', async () => {
    const study = await readStudy(
      await folderOf({
        'study.json': `\uFEFF${JSON.stringify(PLAIN, null, 2).replaceAll('\n', '\r\n')}`,
        'runs.csv': `\uFEFF${TIDY.replaceAll('\n', '\r\n')}`,
      }),
    );
    expect(study).toEqual(parseStudy(PLAIN, { runs: TIDY }));
  });

  test('UTF-16 of a spreadsheet is read', async () => {
    const text = 'meter\treading_µW\r\nreference\t46\r\ncandidate\t41\r\n';
    const little = Buffer.from(`\uFEFF${text}`, 'utf16le');
    const study = await readStudy(await folderOf({ 'study.json': STUDY, 'runs.csv': little }));
    expect(study.series[0]?.runs[0]?.reading_mW).toBe(0.046);
    const big = Buffer.from(little).swap16();
    const other = await readStudy(await folderOf({ 'study.json': STUDY, 'runs.csv': big }));
    expect(other).toEqual(study);
  });

  test('the encoding of older spreadsheets is read, with a warning', async () => {
    const latin = Buffer.from('meter;reading_\u00B5W\nreference;46,5\ncandidate;41,5\n', 'latin1');
    const study = await readStudy(await folderOf({ 'study.json': STUDY, 'runs.csv': latin }));
    expect(study.series[0]?.runs[0]?.reading_mW).toBe(0.0465);
    expect(codesOf(study)).toEqual(['encoding-guessed']);
  });
});

describe('what cannot be read', () => {
  test('no such folder', async () => {
    const folder = join(root, 'not there');
    const error = await errorLater(readStudy(folder));
    expect(error).toMatchObject({ code: 'file-missing', file: folder });
    expect(error.expected).toContain('study.json and runs.csv');
  });

  test('a file where the folder should be, and the folder that was meant', async () => {
    const folder = await folderOf({ 'study.json': STUDY, 'runs.csv': TIDY });
    const error = await errorLater(readStudy(join(folder, 'runs.csv')));
    expect(error.code).toBe('file-unreadable');
    expect(error.message).toContain('a study is a folder');
    expect(error.expected).toContain(folder);
    expect((await errorLater(readStudy(join(folder, 'runs.csv', 'x')))).code).toBe('file-missing');
  });

  test('both files missing, in one message with what is there', async () => {
    const error = await errorLater(readStudy(await folderOf({ 'readings.doc': '' })));
    expect(error).toMatchObject({ code: 'file-missing', file: 'study.json' });
    expect(error.others).toMatchObject([{ code: 'file-missing', file: 'runs.csv' }]);
    expect(error.found).toBe('readings.doc');
    expect((await errorLater(readStudy(await folderOf({})))).found).toBe('an empty folder');
  });

  test('a spreadsheet beside the missing table', async () => {
    const error = await errorLater(
      readStudy(await folderOf({ 'study.json': STUDY, 'runs.xlsx': 'PK' })),
    );
    expect(error).toMatchObject({ code: 'file-missing', file: 'runs.csv' });
    expect(error.message).toContain('"runs.xlsx"');
    expect(error.message).toContain('save its sheet as runs.csv');
  });

  test('the right file under nearly the right name', async () => {
    const error = await errorLater(
      readStudy(await folderOf({ 'study.json.txt': STUDY, 'runs.csv': TIDY })),
    );
    expect(error.message).toContain('rename it to study.json');
  });

  test('a spreadsheet under the name of the table', async () => {
    for (const bytes of [
      [0x50, 0x4b, 3, 4, 0x14, 0, 6, 0, 0x80, 0xff],
      [0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1],
    ]) {
      const folder = await folderOf({ 'study.json': STUDY, 'runs.csv': Uint8Array.from(bytes) });
      const error = await errorLater(readStudy(folder));
      expect(error).toMatchObject({ code: 'csv-invalid', file: 'runs.csv' });
      expect(error.expected).toContain('saved as CSV');
    }
  });

  test('a folder under the name of a file', async () => {
    const folder = await folderOf({ 'study.json': STUDY });
    await mkdir(join(folder, 'runs.csv'));
    expect(await errorLater(readStudy(folder))).toMatchObject({
      code: 'file-unreadable',
      file: 'runs.csv',
    });
  });

  test('a slip in study.json, with line and column', async () => {
    const broken = '{\n  "reference": { "name": "bench" },\n  "candidate": { "name": "p", },\n}';
    const error = await errorLater(
      readStudy(await folderOf({ 'study.json': broken, 'runs.csv': TIDY })),
    );
    expect(error).toMatchObject({ code: 'study-json-invalid', file: 'study.json' });
    expect(error.message).toContain('line 3, column 31');
    expect(error.message).toContain('comma too many');
  });

  test('a slip in opinions.json', async () => {
    const error = await errorLater(
      readStudy(await folderOf({ 'study.json': STUDY, 'runs.csv': TIDY, 'opinions.json': '[' })),
    );
    expect(error).toMatchObject({ code: 'opinions-invalid', file: 'opinions.json' });
  });

  test.each(['', ' ', undefined, 7])('%j is no path', async (folder) => {
    const call = readStudy as (folder: unknown) => Promise<unknown>;
    expect((await errorLater(call(folder))).code).toBe('argument-wrong');
  });
});

test('the demonstration text of parseStudy holds', async () => {
  const source = await readFile(
    join(import.meta.dirname, '../../src/record/parseStudy.ts'),
    'utf8',
  );
  const example = source.slice(
    source.indexOf('@example'),
    source.indexOf('*/', source.indexOf('@example')),
  );
  expect(example).toContain(
    "{ runs: 'meter,reading_mW,wavelength_nm\\nreference,46.2,520\\ncandidate,41.8,520' }",
  );
  const study = parseStudy(
    { reference: { name: 'bench' }, candidate: { name: 'drawer' } },
    { runs: 'meter,reading_mW,wavelength_nm\nreference,46.2,520\ncandidate,41.8,520' },
  );
  expect(study.series[0]?.runs.length).toBe(2);
});
