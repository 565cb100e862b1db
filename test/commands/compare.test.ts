import { spawn, spawnSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test, vi } from 'vitest';
import { twelveDigits } from '../record/twelveDigits.js';

const command = fileURLToPath(new URL('../../dist/commands/main.js', import.meta.url));
const OUTPUTS = [
  'appendix.html',
  'card.html',
  'compare.ipynb',
  'factors.json',
  'report.html',
  'result.json',
];

// A run starts a compiler of its own; on a busy machine that takes its time.
vi.setConfig({ testTimeout: 240_000 });

/** Runs the command as `npm start -- …` typed in the folder `from` does. */
function start(args: readonly string[], from: string) {
  const run = spawnSync(process.execPath, [command, 'compare', ...args], {
    encoding: 'utf8',
    env: { ...process.env, INIT_CWD: from },
  });
  return { status: run.status, stdout: run.stdout, stderr: run.stderr };
}

const scratch = () => mkdtempSync(join(tmpdir(), 'meterpair-test-'));

/** A small invented study: the candidate reads about a tenth low, with a little scatter. */
function writeStudy(folder: string, rows?: string): void {
  mkdirSync(folder, { recursive: true });
  const study = {
    title: 'Invented readings for a test',
    reference: { name: 'Meter R', resolution_mW: 0.1, expanded_uncertainty_percent: 3 },
    candidate: { name: 'Meter C', resolution_mW: 0.1 },
    sources: [{ name: 'green', wavelength_nm: 520, label_class: '3B', label_max_mW: 60 }],
  };
  const scatter = [0.1, -0.2, 0.3, -0.1, 0, 0.2, -0.3, 0.1];
  const laps = scatter.map((off, lap) => `${50 + off},${(45 - off + 0.1 * (lap % 3)).toFixed(1)}`);
  writeFileSync(join(folder, 'study.json'), JSON.stringify(study));
  writeFileSync(
    join(folder, 'runs.csv'),
    rows ?? `reference_mW,candidate_mW\n${laps.join('\n')}\n`,
  );
}

/** Every file below a folder with its content and time: to see whether it was touched. */
function state(folder: string): readonly string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .sort()
    .map((name) => {
      const found = statSync(join(folder, name));
      const content = found.isFile() ? readFileSync(join(folder, name), 'utf8') : '';
      return `${name} ${found.mtimeMs} ${content}`;
    });
}

describe('bad input ends with exit code 2, one readable message, and nothing touched', () => {
  test('a cell that is no number', () => {
    const from = scratch();
    writeStudy(join(from, 'study'), 'reference_mW,candidate_mW\n50,45\n50,four\n');
    const before = state(from);
    const run = start(['study', '--out', 'made/out'], from);
    expect(run.status).toBe(2);
    expect(run.stdout).toBe('');
    expect(run.stderr).toMatch(/runs\.csv.*row 3.*candidate_mW/);
    expect(run.stderr).toContain('four');
    expect(run.stderr).not.toMatch(/\n\s+at |MeterpairError|node_modules|file:/);
    expect(state(from)).toEqual(before);
  });

  test('a folder that does not exist, and an earlier report stays as it was', () => {
    const from = scratch();
    mkdirSync(join(from, 'out'));
    for (const name of OUTPUTS) writeFileSync(join(from, 'out', name), `my own ${name}`);
    const before = state(from);
    const run = start(['nowhere', '--out', 'out'], from);
    expect(run.status).toBe(2);
    expect(run.stderr).toContain('nowhere');
    expect(run.stderr.trim().split('\n')).toHaveLength(1);
    expect(state(from)).toEqual(before);
  });

  test.each([
    ['an output folder that is a file', ['study', '--out', 'taken'], 'taken'],
    ['an output folder below a file', ['study', '--out', 'taken/below'], 'taken'],
    ['an output file that is a folder', ['study', '--out', 'odd'], 'report.html'],
    ['somebody’s own file of that name', ['study', '--out', 'mine'], 'report.html'],
    ['an option that does not exist', ['study', '--fast'], '--fast'],
    ['two studies', ['study', 'other'], '"other"'],
    ['an option without its value', ['study', '--out'], '--out'],
    ['earlier factors that do not exist', ['study', '--earlier', 'no.json'], 'no.json'],
    ['earlier factors that are none', ['study', '--earlier', 'taken'], 'taken'],
  ])('%s', (_what, args, named) => {
    const from = scratch();
    writeStudy(join(from, 'study'));
    writeFileSync(join(from, 'taken'), 'mine');
    mkdirSync(join(from, 'odd', 'report.html'), { recursive: true });
    mkdirSync(join(from, 'mine'));
    writeFileSync(join(from, 'mine', 'report.html'), '<p>my own page</p>');
    const before = state(from);
    const run = start(args, from);
    expect(run.status).toBe(2);
    expect(run.stderr).toContain(named);
    expect(run.stderr.trim().split('\n')).toHaveLength(1);
    expect(state(from)).toEqual(before);
  });

  test('a control sequence in a file does not reach the terminal', () => {
    const from = scratch();
    writeStudy(join(from, 'study'), 'reference_mW,candidate_mW\n50,\u001b[31mred\n');
    const run = start(['study', '--out', 'out'], from);
    expect(run.status).toBe(2);
    expect(run.stderr).not.toContain('\u001b');
  });
});

test('--help tells how to use it', () => {
  const run = start(['--help'], scratch());
  expect(run.status).toBe(0);
  expect(run.stdout).toContain('npm start -- FOLDER --out DIR');
  expect(run.stderr).toBe('');
});

test('stopped by Ctrl-C it leaves nothing behind', async () => {
  const from = scratch();
  writeStudy(join(from, 'study'));
  const before = state(from);
  const child = spawn(process.execPath, [command, 'compare', 'study', '--out', 'a/b/out'], {
    cwd: from,
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let said = '';
  child.stderr.on('data', (chunk) => {
    said += chunk;
  });
  const ended = new Promise<number | null>((resolve) => child.once('close', resolve));
  // The first line of progress: the notebook is at work.
  child.stdout.on('data', (chunk) => {
    if (/\n\s+1\/\d+/.test(`\n${chunk}`)) child.kill('SIGINT');
  });
  expect(await ended).toBe(130);
  expect(said).toBe('');
  expect(state(from)).toEqual(before);
});

test('without the notebook: the report alone, from the analysis', () => {
  const from = scratch();
  writeStudy(join(from, 'study'));
  const run = start(['study', '--out', 'out', '--no-notebook'], from);
  expect([run.status, run.stderr]).toEqual([0, '']);
  expect(readdirSync(join(from, 'out')).sort()).toEqual(
    OUTPUTS.filter((name) => name !== 'compare.ipynb'),
  );
  // Another study into the same folder: what stood there is kept, and said.
  writeStudy(join(from, 'other'), 'reference_mW,candidate_mW\n50,45\n51,46\n50,45\n');
  const next = start(['other', '--out', 'out', '--no-notebook'], from);
  expect(next.status).toBe(0);
  const kept = readdirSync(join(from, 'out')).find((name) => name.startsWith('earlier-')) ?? '';
  expect(next.stdout).toContain(join('out', kept));
  const result = (folder: string) =>
    JSON.parse(readFileSync(join(from, folder, 'result.json'), 'utf8')).data_sha256;
  expect(result(join('out', kept))).not.toBe(result('out'));
});

describe('a study of one’s own', () => {
  const from = scratch();
  const study = `it's a "study" & more`;
  writeStudy(join(from, study));
  const studyBefore = state(join(from, study));
  mkdirSync(join(from, 'the out', 'kept'), { recursive: true });
  writeFileSync(join(from, 'the out', 'kept', 'note.txt'), 'mine');
  const run = start([study, '--out', 'the out'], from);
  const read = (name: string) => readFileSync(join(from, 'the out', name), 'utf8');

  test('ends well, and the folder holds the files beside what was there', () => {
    expect(run.stderr).toBe('');
    expect(run.status).toBe(0);
    expect(readdirSync(join(from, 'the out')).sort()).toEqual([...OUTPUTS, 'kept'].sort());
    expect(readFileSync(join(from, 'the out', 'kept', 'note.txt'), 'utf8')).toBe('mine');
    expect(readdirSync(from).sort()).toEqual([study, 'the out'].sort());
    expect(state(join(from, study))).toEqual(studyBefore);
  });

  test('shows progress, the factor and the report’s place, in 80 columns', () => {
    expect(run.stdout).toContain('Step 6: from the difference to a factor');
    expect(run.stdout).toContain('520');
    expect(run.stdout).toContain(join(from, 'the out', 'report.html'));
    expect(run.stdout.replace(/\s+/g, ' ')).toContain('laser safety officer');
    const lines = run.stdout.split('\n').filter((line) => !line.includes(from));
    expect(Math.max(...lines.map((line) => [...line].length))).toBeLessThanOrEqual(80);
  });

  test('leaves a result about this study', () => {
    const result = JSON.parse(read('result.json'));
    expect(result.schema).toBe('meterpair.result/2');
    expect(result.title).toBe('Invented readings for a test');
    expect(result.wavelengths).toHaveLength(1);
    // Readings of about 50 mW and 45 mW: K is near 50 / 45.
    expect(Math.abs(result.wavelengths[0].factor - 50 / 45)).toBeLessThan(0.01);
    expect(JSON.parse(read('factors.json')).data_sha256).toBe(result.data_sha256);
  });

  test('leaves a notebook that finds the study again and names no folder of this machine', () => {
    const text = read('compare.ipynb');
    const notebook = JSON.parse(text);
    const tagged = notebook.cells.find((cell: { metadata: { tags?: string[] } }) =>
      cell.metadata.tags?.includes('study-folder'),
    );
    const source: string = [tagged.source].flat().join('');
    const path = JSON.parse(/"(?:[^"\\]|\\.)*"/.exec(source)?.[0] ?? 'null');
    expect(resolve(from, 'the out', path)).toBe(join(from, study));
    expect(text).not.toContain(from);
    expect(text).not.toContain(dirname(dirname(dirname(command))));
    const record = notebook.cells
      .flatMap((cell: { outputs?: { data?: Record<string, unknown> }[] }) => cell.outputs ?? [])
      .map((output: { data?: Record<string, unknown> }) => output.data?.['application/json'])
      .find((data: unknown) => data !== undefined);
    expect(twelveDigits(record)).toEqual(JSON.parse(read('result.json')));
  });

  test('and a later study says whether the factors have moved', () => {
    // The candidate reads about a tenth lower than it did.
    const rows = [50.1, 49.8, 50.3, 49.9, 50, 50.2, 49.7, 50.1].map(
      (r, lap) => `${r},${(40.5 - (r - 50) + 0.1 * (lap % 3)).toFixed(1)}`,
    );
    writeStudy(join(from, 'later'), `reference_mW,candidate_mW\n${rows.join('\n')}\n`);
    const factors = join('the out', 'factors.json');
    const asked = start(['later', '--earlier', factors, '--out', 'then'], from);
    expect([asked.status, asked.stderr]).toEqual([0, '']);
    expect(asked.stdout).toContain('Since "');
    expect(asked.stdout.replaceAll(/\n */g, ' ')).toContain('520 nm has moved');
    const text = readFileSync(join(from, 'then', 'compare.ipynb'), 'utf8');
    expect(text).not.toContain(from);
    const { then_and_now } = JSON.parse(readFileSync(join(from, 'then', 'result.json'), 'utf8'));
    expect(then_and_now.earlier_data_sha256).toBe(JSON.parse(read('result.json')).data_sha256);
    expect(then_and_now.wavelengths[0].verdict).toBe('moved');
    // 45/40.5 − 1 = 11 %, and the scatter of a few tenths of a percent
    expect(Math.abs(then_and_now.wavelengths[0].change_percent - 11.1)).toBeLessThan(1);
    expect(JSON.parse(read('result.json')).then_and_now).toBeNull();
  });

  test('and one still later, with both of them, keeps a chart that its notebook finds again', () => {
    const rows = [50.2, 49.9, 50.1, 49.8, 50, 50.1, 49.9, 50].map(
      (r, lap) => `${r},${(44.8 + (r - 50) + 0.1 * (lap % 2)).toFixed(1)}`,
    );
    writeStudy(join(from, 'latest'), `reference_mW,candidate_mW\n${rows.join('\n')}\n`);
    const files = ['the out', 'then'].map((name) => join(name, 'factors.json'));
    const asked = start(
      ['latest', ...files.flatMap((file) => ['--earlier', file]), '--out', 'again'],
      from,
    );
    expect([asked.status, asked.stderr]).toEqual([0, '']);
    expect(asked.stdout).toContain('Since "');
    const kept = readFileSync(join(from, 'again', 'compare.ipynb'), 'utf8');
    expect(kept).not.toContain(from);
    expect(kept).toContain(
      String.raw`const earlierFactors: string[] = [\"../the out/factors.json\", \"../then/factors.json\"];`,
    );
    const result = JSON.parse(readFileSync(join(from, 'again', 'result.json'), 'utf8'));
    const [chart] = result.re_checks;
    const factorOf = (name: string) =>
      JSON.parse(readFileSync(join(from, name, 'factors.json'), 'utf8')).factors[0].factor;
    expect(chart.values.map((one: { factor: number }) => one.factor)).toEqual(
      ['the out', 'then', 'again'].map(factorOf),
    );
    // The comparison is with the last of the earlier ones.
    expect(result.then_and_now.wavelengths[0].earlier_factor).toBe(factorOf('then'));
    const page = readFileSync(join(from, 'again', 'appendix.html'), 'utf8');
    expect(page).toContain('id="table-re-checks"');
    expect(readFileSync(join(from, 'then', 'appendix.html'), 'utf8')).not.toContain(
      'id="table-re-checks"',
    );
  });

  test('earlier factors that the run would write over are refused, and stay', () => {
    const before = state(join(from, 'the out'));
    const refused = start(
      [study, '--earlier', join('the out', 'factors.json'), '--out', 'the out'],
      from,
    );
    expect(refused.status).toBe(2);
    expect(refused.stderr).toContain('written over');
    expect(state(join(from, 'the out'))).toEqual(before);
  });

  test('gives the same bytes again, into the study’s own folder too, and leaves the study alone', () => {
    const again = start([study, '--out', study], from);
    expect(again.status).toBe(0);
    for (const name of ['result.json', 'factors.json']) {
      expect(readFileSync(join(from, study, name), 'utf8')).toBe(read(name));
    }
    const kept = state(join(from, study)).filter(
      (line) => !OUTPUTS.some((name) => line.startsWith(name)),
    );
    expect(kept).toEqual(studyBefore);
    expect(existsSync(join(from, study, 'report.html'))).toBe(true);
  });
});
