import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { MeterpairError } from '../../src/error.js';
import { writeRunSheet } from '../../src/notebook/writeRunSheet.js';
import { runOrder } from '../../src/plan/runOrder.js';
import { readStudy } from '../../src/record/readStudy.js';

const options = {
  sources: [
    { name: 'red module', wavelength_nm: 638 },
    { name: 'green bench diode', wavelength_nm: 520 },
  ],
  laps: 4,
  order: 'ABBA-BAAB',
  seriesPerSource: 2,
} as const;

const fresh = () => mkdtempSync(join(tmpdir(), 'meterpair-test-'));

describe('writeRunSheet', () => {
  test('leaves a runs.csv that is a study once the readings are filled in', async () => {
    const folder = join(fresh(), 'new', 'study');
    await writeRunSheet({ ...options, folder });
    const path = join(folder, 'runs.csv');
    const filled = readFileSync(path, 'utf8').replace(/,(reference|candidate),,/g, ',$1,12.5,');
    writeFileSync(path, filled);
    const study = {
      title: 'Planned',
      reference: { name: 'R' },
      candidate: { name: 'C' },
      sources: options.sources,
    };
    writeFileSync(join(folder, 'study.json'), JSON.stringify(study));
    const read = await readStudy(folder);
    expect(read.series).toHaveLength(4);
    for (const series of read.series) {
      expect(series.runs.map((run) => run.meter)).toEqual(runOrder('ABBA-BAAB', 4));
      expect(series.runs.map((run) => run.reading_mW)).toEqual(Array(8).fill(12.5));
    }
  });

  test('never writes over a file that says something else, and then writes nothing', async () => {
    const folder = fresh();
    writeFileSync(join(folder, 'runs.csv'), 'my readings');
    const error = await writeRunSheet({ ...options, folder }).catch((reason: unknown) => reason);
    expect(error).toBeInstanceOf(MeterpairError);
    expect(String(error)).toContain('may hold readings');
    expect(readFileSync(join(folder, 'runs.csv'), 'utf8')).toBe('my readings');
    expect(readdirSync(folder)).toEqual(['runs.csv']);
  });

  test('may be run again with the same plan', async () => {
    const folder = fresh();
    const first = await writeRunSheet({ ...options, folder });
    expect(await writeRunSheet({ ...options, folder })).toEqual(first);
    expect(readdirSync(folder).sort()).toEqual(['run-sheet.html', 'runs.csv']);
  });

  test('goes to a fresh folder under the temporary folder when none is named', async () => {
    const one = await writeRunSheet({ ...options, folder: null });
    const two = await writeRunSheet({ ...options, folder: null });
    expect(dirname(one.folder)).toBe(tmpdir());
    expect(two.folder).not.toBe(one.folder);
    for (const { folder } of [one, two]) rmSync(folder, { recursive: true });
    expect(existsSync(one.folder)).toBe(false);
  });

  test('lets no name become markup on the page', async () => {
    const bad = '</td><script>alert(1)</script><img src=x onerror=alert(1)>';
    const folder = fresh();
    const sheet = await writeRunSheet({
      ...options,
      sources: [{ name: bad, wavelength_nm: 500 }],
      title: bad,
      folder,
    });
    const page = readFileSync(join(folder, 'run-sheet.html'), 'utf8');
    for (const html of [page, sheet.html]) expect(html).not.toMatch(/<(script|img)\b/);
  });
});
