import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test, vi } from 'vitest';

// A run may start a compiler of its own; on a busy machine that takes its time.
vi.setConfig({ testTimeout: 240_000 });

const command = fileURLToPath(new URL('../../dist/commands/main.js', import.meta.url));

function run(from: string, ...args: string[]) {
  return spawnSync(process.execPath, [command, 'notebook', ...args], {
    cwd: from,
    encoding: 'utf8',
  });
}

/** A folder with a small invented study in it. */
function withStudy(): string {
  const from = mkdtempSync(join(tmpdir(), 'meterpair-test-'));
  mkdirSync(join(from, 'study'));
  const study = {
    title: 'Invented \u202e readings',
    reference: { name: 'Meter R' },
    candidate: { name: 'Meter <C>' },
    sources: [{ name: 'green', wavelength_nm: 520 }],
  };
  const laps = [50, 51, 50, 52, 51, 50].map((mW, lap) => `${mW},${mW - 5 + 0.1 * (lap % 3)}`);
  writeFileSync(join(from, 'study', 'study.json'), JSON.stringify(study));
  writeFileSync(join(from, 'study', 'runs.csv'), `reference_mW,candidate_mW\n${laps.join('\n')}\n`);
  return from;
}

test('without a name it lists the notebooks', () => {
  const { status, stdout } = run(tmpdir());
  expect(status).toBe(0);
  expect(stdout.split('\n')).toContain('4-settling');
  expect(stdout.split('\n')).toContain('lessons/5-taking-turns');
});

test('any notebook runs on a reader’s folder, called by its number, and is kept light and harmless', () => {
  const from = withStudy();
  const { status, stdout, stderr } = run(from, '2', 'study', '--out', 'mine.ipynb');
  expect([status, stderr]).toEqual([0, '']);
  expect(stdout).toMatch(/^\s+1\/\d+ /m);
  expect(stdout).toContain(join(from, 'mine.ipynb'));
  expect(readdirSync(from).sort()).toEqual(['mine.ipynb', 'study']);
  const text = readFileSync(join(from, 'mine.ipynb'), 'utf8');
  expect(text).toContain(String.raw`const studyFolder = \"study\";`);
  // Texts are kept as texts: no direction mark in them, and nothing escaped twice.
  const { cells } = JSON.parse(text) as {
    cells: { outputs?: { text?: string[]; data?: Record<string, unknown> }[] }[];
  };
  const shown = cells.flatMap((cell) =>
    (cell.outputs ?? []).flatMap(({ text = [], data = {} }) =>
      [text, data['text/plain'] ?? [], data['text/html'] ?? []].flat(),
    ),
  );
  expect(shown.join('')).not.toContain('\u202e');
  expect(shown.join('')).not.toContain('&amp;lt;');
  expect(shown.join('')).toContain('Meter &lt;C&gt;');
  expect(text.length).toBeLessThan(3_000_000);
});

test('a file of somebody’s own is not written over, and nothing runs for it', () => {
  const from = withStudy();
  writeFileSync(join(from, 'mine.ipynb'), '{"cells":[],"metadata":{},"mine":1}');
  const { status, stdout, stderr } = run(from, '2', 'study', '--out', 'mine.ipynb');
  expect([status, stdout]).toEqual([2, '']);
  expect(stderr).toContain('mine.ipynb');
  expect(readFileSync(join(from, 'mine.ipynb'), 'utf8')).toContain('"mine":1');
});

test('a study that lacks what the notebook asks for is refused in a sentence, without code', () => {
  const from = withStudy();
  const { status, stderr } = run(from, '4-settling', 'study', '--out', 'mine.ipynb');
  expect(status).toBe(2);
  expect(stderr).toContain('traces.csv: This study has no trace');
  expect(stderr).not.toContain('const ');
  expect(readdirSync(from)).toEqual(['study']);
});
