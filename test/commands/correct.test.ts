import { existsSync, mkdirSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
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

  test.each([
    [['factors.json'], 'What is to be corrected'],
    [['factors.json', '--reading', '50'], '--nm'],
    [['factors.json', 'r.csv', '--reading', '50'], 'Either a table or --reading'],
    [['factors.json', '--reading', 'many', '--nm', '520'], 'many'],
    [['factors.json', '--reading', '50', '--nm', '900'], 'beyond the measured wavelengths'],
    [['factors.json', '--reading', '50', '--nm', '520', '--date', 'soon'], '--date'],
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
