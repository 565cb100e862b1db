import { existsSync, mkdirSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { runCommand } from './run.js';

async function run(args: readonly string[], answers?: readonly string[]) {
  const from = mkdtempSync(join(tmpdir(), 'meterpair-plan-'));
  return { from, ...(await runIn(from, args, answers)) };
}

const runIn = (from: string, args: readonly string[], answers?: readonly string[]) =>
  runCommand(from, ['plan', ...args], answers);

const SOURCE = ['--source', 'violet module:405:90'];
const BRIEF = [...SOURCE, '--most-series', '1', '--most-laps', '8'];
const json = (from: string) => JSON.parse(readFileSync(join(from, 'mine/study.json'), 'utf8'));

describe('a new folder', () => {
  test('gets a study, its runs and a sheet, and a sentence for each decision', async () => {
    const { code, out, from } = await run([
      'mine',
      ...BRIEF,
      '--reference',
      'Bench head',
      '--certificate',
      '3 %',
      '--tolerance',
      '7,5',
      '--time-constant',
      '6',
    ]);
    expect(code).toBe(0);
    expect(json(from)).toMatchObject({
      reference: { name: 'Bench head', expanded_uncertainty_percent: 3, coverage_factor: 2 },
      candidate: { name: 'candidate' },
      sources: [{ name: 'violet module', wavelength_nm: 405 }],
      tolerance_percent: 7.5,
      protocol: { order: 'ABBA-BAAB', read_at_s: 30 },
    });
    expect(readFileSync(join(from, 'mine/runs.csv'), 'utf8').split('\n')).toHaveLength(18);
    expect(readFileSync(join(from, 'mine/run-sheet.html'), 'utf8')).toContain('☐');
    expect(out).toMatch(/How the heads are put back is not said/);
  });

  test('has one reading time in its sheet and its study, and says what lacks then', async () => {
    const at = async (...more: readonly string[]) => {
      const made = await run(['mine', ...BRIEF, ...more]);
      return {
        ...made,
        stated: json(made.from).protocol.read_at_s,
        sheet: readFileSync(join(made.from, 'mine/run-sheet.html'), 'utf8'),
      };
    };
    const early = await at('--time-constant', '60', '--read-at', '10');
    expect(early.stated).toBe(10);
    expect(early.sheet).toContain('the same time for both meters: 10 s');
    expect(early.sheet).not.toContain('300 s');
    // e^(−10/60) = 0.846; 60 s·ln 100 = 276.3 s
    expect(early.out).toContain(
      'At 10 s the slower meter still lacks 85 % (time constant 60 s): from 277 s on it lacks less than 1 %.',
    );
    const late = await at('--time-constant', '6', '--read-at', '60');
    expect(late.sheet).toContain('the same time for both meters: 60 s');
    expect(late.out).not.toContain('lacks');
    const alone = await at('--read-at', '60');
    expect(alone.sheet).toContain('the same time for both meters: 60 s');
    expect(alone.stated).toBe(60);
  });

  test('does not tell to state what it has stated itself', async () => {
    const { out, from } = await run(['mine', ...BRIEF, '--placement', '0,5']);
    expect(json(from).between_series_percent).toBe(0.5);
    expect(out).toContain('known from elsewhere: between_series_percent: 0.5 in study.json');
    expect(out).not.toContain('state between_series_percent');
  });

  test('keeps a file that says something else', async () => {
    const { from } = await run(['mine', ...BRIEF]);
    writeFileSync(join(from, 'mine/runs.csv'), 'readings of an evening');
    const again = await runIn(from, ['mine']);
    expect(again.code).toBe(2);
    expect(again.err).toContain('may hold readings');
    expect(readFileSync(join(from, 'mine/runs.csv'), 'utf8')).toBe('readings of an evening');
  });

  test('is asked for in a terminal, and what the options say is not', async () => {
    const { code, asked, from } = await run(
      ['mine', '--reference', 'Bench head', '--most-series', '1', '--most-laps', '8'],
      ['violet module:405:90', 'red:638:40', '', 'Drawer meter', '3'],
    );
    expect(code).toBe(0);
    expect(json(from)).toMatchObject({
      candidate: { name: 'Drawer meter' },
      reference: { name: 'Bench head', expanded_uncertainty_percent: 3 },
      sources: [{ name: 'violet module' }, { name: 'red' }],
    });
    expect(asked.join()).not.toContain('meter you trust');
    const more = 'One more (Enter: no): ';
    expect(asked.slice(1, 3)).toEqual([more, more]);
    expect(asked.filter((question) => question === more)).toHaveLength(2);
  });
});

describe('a folder with a study.json', () => {
  test('is planned by it, and it stays as it is', async () => {
    const { from } = await run(['mine', ...BRIEF]);
    const text = JSON.stringify({
      reference: { name: 'R' },
      candidate: { name: 'C' },
      sources: [{ name: 'green', wavelength_nm: 520 }],
      protocol: { order: 'ABBA' },
    });
    const other = mkdtempSync(join(tmpdir(), 'meterpair-plan-'));
    writeFileSync(join(other, 'study.json'), text);
    const { code, out } = await runIn(from, [other, '--most-series', '1', '--most-laps', '8']);
    expect(code).toBe(0);
    expect(readFileSync(join(other, 'study.json'), 'utf8')).toBe(text);
    expect(readFileSync(join(other, 'runs.csv'), 'utf8')).toContain('green,green,candidate');
    expect(out).toContain('study.json stays as it is');
  });

  test('refuses an option that it answers itself', async () => {
    const other = mkdtempSync(join(tmpdir(), 'meterpair-plan-'));
    writeFileSync(join(other, 'study.json'), '{"reference":{"name":"R"},"candidate":{"name":"C"}}');
    const { code, err } = await runIn(other, ['.', '--tolerance', '5']);
    expect(code).toBe(2);
    expect(err).toContain('--tolerance');
    expect((await runIn(other, ['.'])).err).toContain('names no source');
  });
});

test.each([
  [['mine'], 'at least one source'],
  [[], 'Where should the plan go'],
  [['mine', '--source', 'violet'], 'a name and a wavelength'],
  [['mine', ...SOURCE, '--tolerance', 'little'], '--tolerance'],
  [['mine', ...SOURCE, '--order', 'ABAB'], 'no such order'],
  [['mine', ...SOURCE, '--placement', 'somehow'], '--placement'],
  [['mine', ...SOURCE, '--most-laps', '2'], 'So few laps'],
  [['mine', ...SOURCE, '--certificate', '300'], '--certificate needs a percentage'],
  [['mine', ...SOURCE, '--noise', '300'], '--noise needs a percentage from 0 to below 100'],
  [['mine', ...SOURCE, '--steadiness', '100'], '--steadiness needs a percentage'],
  [['mine', ...SOURCE, '--tolerance', '0'], '--tolerance needs a percentage above 0'],
  [['mine', ...SOURCE, '--placement', '150'], '--placement needs a percentage'],
  [['mine', ...SOURCE, '--k', '2'], '--k goes with --certificate'],
  [['mine', ...SOURCE, '--read-at', '0'], 'read_at_s'],
  [['mine', ...SOURCE, '--time-constant', '0'], 'slower_time_constant_s'],
  [
    ['mine', '--source', 'a:405:0.001', '--step-reference', '0.1', '--step-candidate', '1'],
    'The display of the reference cannot measure a power below its step',
  ],
  [
    ['mine', '--source', 'a:405:0.05', '--step-candidate', '1'],
    'The display of the candidate cannot measure a power below its step',
  ],
])('%j is refused with 2, and nothing is written', async (args, said) => {
  const { code, err, from } = await run(args);
  expect(code).toBe(2);
  expect(err).toContain(said);
  expect(existsSync(join(from, 'mine'))).toBe(false);
});

test('a study.json that cannot be read is named, and never taken for none', async () => {
  const other = mkdtempSync(join(tmpdir(), 'meterpair-plan-'));
  mkdirSync(join(other, 'study.json'));
  const { code, err } = await runIn(other, ['.', ...BRIEF]);
  expect(code).toBe(2);
  expect(err).toContain('study.json: This is a folder, and a file is expected.');
});
