import {
  existsSync,
  linkSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { factorsFile } from '../../src/factors/factorsFile.js';
import { entry, madeFactors } from '../madeFactors.js';
import { runCommand } from './run.js';

const folder = () => {
  const from = mkdtempSync(join(tmpdir(), 'meterpair-correct-'));
  const factors = madeFactors(1, { date: '2026-03-14', factors: [entry(520, 1.1, 0.025)] });
  writeFileSync(join(from, 'factors.json'), factorsFile(factors));
  return from;
};

const run = (from: string, ...args: readonly string[]) => runCommand(from, ['correct', ...args]);

describe('one reading', () => {
  const from = folder();
  const one = (...more: readonly string[]) =>
    run(from, 'factors.json', '--date', '2026-03-20', ...more);

  test('comes out with its U and its interval, each caution on a line', async () => {
    const { code, out } = await one('--reading', '50', '--nm', '520');
    expect(code).toBe(0);
    expect(out).toMatch(
      /^A reading \(50 mW\) at 520 nm comes to \(55\.0 ± \d\.\d\) mW, k = \d\.\d+: from [\d.]+ to [\d.]+ mW\.\n/,
    );
  });

  test('may be repeated, have a zero, and a decimal comma', async () => {
    const { out } = await one(
      '--reading',
      '50,5',
      '--reading',
      '51.5',
      '--nm',
      '520',
      '--zero',
      '1',
    );
    expect(out).toMatch(/^The mean of 2 readings .* \(55\.0 ± /);
  });

  test('with factors that are too old says so', async () => {
    const { out } = await run(
      from,
      'factors.json',
      '--reading',
      '50',
      '--nm',
      '520',
      '--date',
      '2029-01-01',
    );
    expect(out).toContain('- The factors are of 2026-03-14');
  });

  test.each(['5', 'foo 3', '1.2.2027', '03/04/2027', '2027-02-30', '2027-03-04T10:00'])(
    'of a day written as %s is refused',
    async (day) => {
      const { code, err } = await run(
        from,
        ...['factors.json', '--reading', '50', '--nm', '520', '--date', day],
      );
      expect(code).toBe(2);
      expect(err).toContain('2024-05-01');
    },
  );

  test('names the meters and the day of the factors once', async () => {
    const { out } = await one('--reading', '50', '--nm', '520');
    const [, second] = out.split('\n');
    expect(second).toBe('By the factors of 2026-03-14 for "Unit 1" against "Meter R".');
    expect(out.match(/Unit 1/g)).toHaveLength(1);
  });

  test('has the ends of its interval as a table has them', async () => {
    writeFileSync(join(from, 'same.csv'), 'wavelength_nm,reading_mW\n520,42\n520,47.3\n520,58\n');
    const { out } = await run(from, 'factors.json', 'same.csv', '--date', '2026-03-20');
    const ends = out
      .split('\n')
      .slice(1, 4)
      .map((row) => row.split(',').slice(5, 7).join(' to '));
    for (const [i, reading] of ['42', '47.3', '58'].entries()) {
      const single = await one('--reading', reading, '--nm', '520');
      expect(single.out).toContain(`: from ${ends[i]} mW.`);
    }
  });

  test.each([
    [['factors.json'], 'What is to be corrected'],
    [['factors.json', '--reading', '50'], '--nm'],
    [['factors.json', 'r.csv', '--reading', '50'], 'Either a table or --reading'],
    [['factors.json', '--reading', 'many', '--nm', '520'], 'many'],
    [['factors.json', '--reading', '50', '--nm', '900'], 'beyond the measured wavelengths'],
    [['factors.json', '--reading', '50', '--nm', '520', '--date', 'soon'], '--date'],
    [['factors.json', '--reading', '50', '--nm', '520', '--read-at', '0'], '--read-at'],
    [['factors.json', '--reading', '50', '--nm', '520', '--read-at', '-1'], '--read-at'],
    [
      ['factors.json', '--reading', '50', '--nm', '520', '--out', 'x.csv'],
      '--out goes with a table',
    ],
    [['factors.json', '--reading', '50mW', '--nm', '520'], 'without its unit'],
    [['factors.json', '--reading', '4.9', '--nm', '520', '--zero', '5'], 'Found: \u22120.1 mW.'],
    [['factors.json', 'r.csv', '--zero', '1'], 'a column zero_mW'],
    [['factors.json', 'r.csv', '--nm', '520'], 'a column wavelength_nm'],
    [['factors.json', 'r.csv', '--read-at', '5'], 'a column read_at_s'],
    [['factors.json', 'r.csv', '--setting', '520'], 'a column setting_nm'],
    [['nowhere.json', '--reading', '50', '--nm', '520'], 'no such file'],
    [[], 'Which factors'],
  ])('%j is refused with 2', async (args, said) => {
    const { code, out, err } = await run(from, ...args);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toContain(said);
  });
});

describe('a table', () => {
  test('goes to standard output, with the count to standard error', async () => {
    const from = folder();
    writeFileSync(join(from, 'r.csv'), 'wavelength_nm,reading_mW\n520,50\n520,none\n');
    const { code, out, err } = await run(from, 'factors.json', 'r.csv');
    expect(code).toBe(0);
    expect(out.split('\n')).toHaveLength(4);
    expect(err).toContain('1 of 2 rows corrected; the others say why');
  });

  test('goes into a file, and a folder in its place stays', async () => {
    const from = folder();
    writeFileSync(join(from, 'r.csv'), 'wavelength_nm,reading_mW\n520,50\n');
    const { code, out } = await run(from, 'factors.json', 'r.csv', '--out', 'made.csv');
    expect(code).toBe(0);
    expect(out).toContain('made.csv');
    expect(readFileSync(join(from, 'made.csv'), 'utf8')).toContain('520,50,55.0,');
    mkdirSync(join(from, 'taken'));
    expect((await run(from, 'factors.json', 'r.csv', '--out', 'taken')).code).toBe(2);
  });

  test('names the meters and the day of the factors beside its columns', async () => {
    const from = folder();
    writeFileSync(join(from, 'r.csv'), 'wavelength_nm,reading_mW\n520,50\n');
    const { out, err } = await run(from, 'factors.json', 'r.csv');
    expect(err).toContain('By the factors of 2026-03-14 for "Unit 1" against "Meter R".\n');
    expect(out).not.toContain('Meter R');
  });

  test('with a day that is none says so in its row', async () => {
    const from = folder();
    writeFileSync(
      join(from, 'r.csv'),
      'wavelength_nm,reading_mW,date\n520,50,5\n520,50,03/04/2027\n520,50,2026-03-20\n',
    );
    const rows = (await run(from, 'factors.json', 'r.csv')).out.split('\n');
    expect(rows[1]).toContain('Not corrected. The day of a reading');
    expect(rows[2]).toContain('Not corrected. The day of a reading');
    expect(rows[3]).toContain('520,50,2026-03-20,55.0');
  });

  test('that has a column of the correction already is refused', async () => {
    const from = folder();
    writeFileSync(join(from, 'r.csv'), 'wavelength_nm,reading_mW,corrected_mW\n520,50,54\n');
    const { code, out, err } = await run(from, 'factors.json', 'r.csv', '--out', 'made.csv');
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toContain('corrected_mW');
    expect(existsSync(join(from, 'made.csv'))).toBe(false);
  });

  test('replaces only a table that came of a correction', async () => {
    const from = folder();
    const others = {
      'report.html': '<p>A page.</p>\nEnd of the comparison report.\n',
      'factors.csv': readFileSync(join(from, 'factors.json'), 'utf8'),
      'runs-0123abcd.csv': 'series,run\na,1\n',
      'own.csv': 'day,corrected_mW\n1,2\n',
    };
    for (const [name, text] of Object.entries(others)) writeFileSync(join(from, name), text);
    writeFileSync(join(from, 'r.csv'), 'wavelength_nm,reading_mW\n520,50\n');
    symlinkSync('r.csv', join(from, 'link.csv'));
    linkSync(join(from, 'factors.json'), join(from, 'twin.csv'));
    const before = readFileSync(join(from, 'factors.json'), 'utf8');
    for (const name of [
      ...Object.keys(others),
      'factors.json',
      'link.csv',
      'twin.csv',
      'new.json',
    ]) {
      const { code, err } = await run(from, 'factors.json', 'r.csv', '--out', name);
      expect([name, code]).toEqual([name, 2]);
      expect(err).toContain('behind --out');
    }
    for (const [name, text] of Object.entries(others)) {
      expect(readFileSync(join(from, name), 'utf8')).toBe(text);
    }
    expect(readFileSync(join(from, 'factors.json'), 'utf8')).toBe(before);
    expect(existsSync(join(from, 'new.json'))).toBe(false);

    expect((await run(from, 'factors.json', 'r.csv', '--out', 'made.csv')).code).toBe(0);
    writeFileSync(join(from, 'r.csv'), 'wavelength_nm,reading_mW\n520,51\n');
    expect((await run(from, 'factors.json', 'r.csv', '--out', 'made.csv')).code).toBe(0);
    expect(readFileSync(join(from, 'made.csv'), 'utf8')).toContain('520,51,56.1,');
  });

  test('is never written over by what comes of it', async () => {
    const from = folder();
    writeFileSync(join(from, 'r.csv'), 'wavelength_nm,reading_mW\n520,50\n');
    const { code, err } = await run(from, 'factors.json', 'r.csv', '--out', './r.csv');
    expect(code).toBe(2);
    expect(err).toContain('overwritten');
    expect(readFileSync(join(from, 'r.csv'), 'utf8')).toBe('wavelength_nm,reading_mW\n520,50\n');
  });

  test.each([
    ['nothing', '', 'empty'],
    ['no reading', 'wavelength_nm,reading_mW\n', 'no reading below'],
    ['other columns', 'a,b\n1,2\n', 'wavelength_nm'],
    ['a spreadsheet', 'PK\u0003\u0004', 'spreadsheet'],
  ])('with %s is refused with 2', async (_, text, said) => {
    const from = folder();
    writeFileSync(join(from, 'r.csv'), text);
    const { code, err } = await run(from, 'factors.json', 'r.csv', '--out', 'made.csv');
    expect(code).toBe(2);
    expect(err).toContain(said);
    expect(existsSync(join(from, 'made.csv'))).toBe(false);
  });

  test('of which no row can be read ends with 2, and still says why', async () => {
    const from = folder();
    writeFileSync(join(from, 'r.csv'), 'wavelength_nm,reading_mW\n520,x\n');
    const { code, out } = await run(from, 'factors.json', 'r.csv');
    expect(code).toBe(2);
    expect(out).toContain('Not corrected');
  });
});
