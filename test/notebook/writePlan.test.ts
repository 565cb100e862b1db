import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { MeterpairError } from '../../src/error.js';
import { writePlan } from '../../src/notebook/writePlan.js';
import { planStudy, type StudyWishes } from '../../src/plan/planStudy.js';
import { runOrder } from '../../src/plan/runOrder.js';
import { readStudy } from '../../src/record/readStudy.js';

const sources = [
  { name: 'red module', wavelength_nm: 638, power_mW: 80, beam_diameter_mm: null },
  { name: 'green bench diode', wavelength_nm: 520, power_mW: null, beam_diameter_mm: null },
];
const meter = (name: string) => ({ name, resolution_mW: 0.1, rated_max_mW: 500, noise: 0.01 });
const wishes: StudyWishes = {
  title: 'Planned',
  meters: { reference: meter('R'), candidate: meter('C') },
  sources,
  certificate: { expanded_uncertainty: 0.02, coverage_factor: 2 },
  tolerance: 0.05,
  wanted: 0.05,
  confidence: 0.95,
  source_noise: 0,
  placement: 'jig',
  order: 'ABBA-BAAB',
  most_series: 2,
  most_laps: 12,
  slower_time_constant_s: 5,
  read_at_s: null,
  on_time_s: null,
  rest_s: 60,
};
const plan = planStudy(wishes);

const fresh = () => mkdtempSync(join(tmpdir(), 'meterpair-test-'));

describe('writePlan', () => {
  test('leaves a runs.csv that is a study once the readings are filled in', async () => {
    const folder = join(fresh(), 'new', 'study');
    await writePlan(plan, folder);
    const path = join(folder, 'runs.csv');
    const filled = readFileSync(path, 'utf8').replace(/,(reference|candidate),,/g, ',$1,12.5,');
    writeFileSync(path, filled);
    const read = await readStudy(folder);
    expect(read.series).toHaveLength(2 * plan.size.series);
    expect(read.protocol.read_at_s).toBe(25);
    for (const series of read.series) {
      expect(series.runs.map((run) => run.meter)).toEqual(runOrder('ABBA-BAAB', plan.size.laps));
      expect(series.runs.map((run) => run.reading_mW)).toEqual(
        Array(2 * plan.size.laps).fill(12.5),
      );
    }
  });

  test('never writes over a file that says something else, and then writes nothing', async () => {
    const folder = fresh();
    writeFileSync(join(folder, 'runs.csv'), 'my readings');
    const error = await writePlan(plan, folder).catch((reason: unknown) => reason);
    expect(error).toBeInstanceOf(MeterpairError);
    expect(String(error)).toContain('may hold readings');
    expect(readFileSync(join(folder, 'runs.csv'), 'utf8')).toBe('my readings');
    expect(readdirSync(folder)).toEqual(['runs.csv']);
  });

  test('may be run again with the same plan', async () => {
    const folder = fresh();
    const first = await writePlan(plan, folder);
    expect(await writePlan(plan, folder)).toEqual(first);
    expect(readdirSync(folder).sort()).toEqual(['run-sheet.html', 'runs.csv', 'study.json']);
  });

  test('goes to a fresh folder under the temporary folder when none is named', async () => {
    const one = await writePlan(plan, null);
    const two = await writePlan(plan, null);
    expect(dirname(one.folder)).toBe(tmpdir());
    expect(two.folder).not.toBe(one.folder);
    for (const { folder } of [one, two]) rmSync(folder, { recursive: true });
    expect(existsSync(one.folder)).toBe(false);
  });

  test('lets no name become markup on the page', async () => {
    const bad = '</td><script>alert(1)</script><img src=x onerror=alert(1)>';
    const folder = fresh();
    const one = { ...sources[0], name: bad };
    const hostile = planStudy({ ...wishes, title: bad, sources: [one as (typeof sources)[0]] });
    const sheet = await writePlan(hostile, folder);
    const page = readFileSync(join(folder, 'run-sheet.html'), 'utf8');
    for (const html of [page, sheet.html]) expect(html).not.toMatch(/<(script|img)\b/);
  });
});
