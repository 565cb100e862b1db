import { mkdirSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeAll, describe, expect, test, vi } from 'vitest';
import { analyse } from '../../src/analyse.js';
import { chartFactors } from '../../src/factors/analyseReChecks.js';
import { compareFactors } from '../../src/factors/analyseThenAndNow.js';
import { factorsFile } from '../../src/factors/factorsFile.js';
import { factorsOf } from '../../src/factors/factorsOf.js';
import { severalUnits } from '../../src/factors/severalUnits.js';
import { unitFactors } from '../../src/factors/unitFactors.js';
import { ownFactors } from '../../src/notebook/factorsFrom.js';
import { runNotebook } from '../../src/notebook/headless.js';
import { type Notebook, sourceText } from '../../src/notebook/notebookFile.js';
import { parseStudy } from '../../src/record/parseStudy.js';
import { readStudy } from '../../src/record/readStudy.js';
import { reCheckScenarios, unitScenarios } from '../../src/simulate/comparisonScenarios.js';
import type { Scenario } from '../../src/simulate/scenario.js';
import { virtualStudy } from '../../src/simulate/virtualStudy.js';
import type { Factors, ReChecks } from '../../src/vocabulary.js';
import { madeFactors } from '../madeFactors.js';
import {
  columnOf,
  errorStreams,
  expectPrinted,
  htmlOf,
  root,
  runWithAnswers,
  sentencesOf,
} from './notebookRun.js';

// A notebook starts a compiler of its own; on a busy machine that takes its time.
vi.setConfig({ testTimeout: 240_000, hookTimeout: 240_000 });

const NAME = '6-then-and-now.ipynb';

/** The road from a scenario to its factors, step by step. */
function compared(scenario: Scenario): Factors {
  const { files } = virtualStudy(scenario);
  const study = parseStudy(JSON.parse(files['study.json'] ?? ''), {
    runs: files['runs.csv'] ?? '',
  });
  return factorsOf(study, analyse(study));
}

/** Reference ÷ candidate with this reference, which reads 0.8 % high: what the bench hides. */
const hidden = ({ series: [one] }: Scenario) =>
  (one?.bench.factor ?? Number.NaN) * (1 + (one?.reference_error ?? 0));

const chartOf = (list: readonly Factors[]): ReChecks => {
  const [chart] = chartFactors(list.slice(0, -1), list[list.length - 1]!);
  return chart!;
};

const ends = (text: string | undefined) => (text ?? '').split(' to ');

describe('with invented data', () => {
  const plan = { checks: 12, factor: 1.1, placement_sd: 0.006, series: 1, seed: 5 };
  const model = { factor: 1.12, between_units_sd: 0.03, placement_sd: 0.006, series: 1, seed: 1 };
  const creeping = reCheckScenarios({ ...plan, creep: 0.005 });
  const checks = creeping.map(compared);
  const chart = chartOf(checks);
  const production = unitScenarios({ ...model, units: 12 });
  const units = unitFactors(production.map(compared), { wavelength_nm: 520 });
  const found = severalUnits({ units, tolerance: 0.05, confidence: 0.95 });
  let run: Notebook;
  /** u at 405 nm then and now, and of the certificate (U = 3 %, k = 2); percent. */
  let u: number;
  let v: number;
  const c = 1.5;
  const uAt405 = ({ factors }: Factors) =>
    100 * factors.find((one) => one.wavelength_nm === 405)!.relative_standard_uncertainty!;
  let then: Factors;
  let now: Factors;

  beforeAll(async () => {
    const demo = async (name: string) => {
      const study = await readStudy(join(root, 'data-demo', name));
      return factorsOf(study, analyse(study));
    };
    then = await demo('1-workshop-evening');
    now = await demo('5-a-year-later');
    // What the sentence of the cell "task" says: u then, u now and the part of the reference.
    [u, v] = [uAt405(then), uAt405(now)];
    const answers = [
      Math.sqrt(u ** 2 + v ** 2 - 2 * c ** 2),
      Math.hypot(u, v),
      Math.sqrt(u ** 2 + v ** 2 - c ** 2),
      u + v,
      9,
    ];
    run = await runWithAnswers(NAME, answers.map(String));
  });

  test('compares the demo studies as they lie in their folders', () => {
    const { wavelengths } = compareFactors(then, now);
    const comparable = wavelengths.filter((one) => one.verdict !== 'not-comparable');
    const column = (title: string) => columnOf(run, 'parts', title);
    expect(column('Wavelength in nm')).toEqual(comparable.map((one) => String(one.wavelength_nm)));
    for (const [i, one] of comparable.entries()) {
      const before = then.factors.find((each) => each.wavelength_nm === one.wavelength_nm);
      const after = now.factors.find((each) => each.wavelength_nm === one.wavelength_nm);
      const both = [before, after].map((each) => 100 * (each?.relative_standard_uncertainty ?? 0));
      expectPrinted(column('Change in %')[i], one.change_percent!);
      expectPrinted(column('u of the change in %')[i], 100 * one.relative_standard_uncertainty!);
      expectPrinted(column('u of the change, all counted, in %')[i], Math.hypot(...both));
      // Certificate: U = 3 %, k = 2.
      expect(column('Shared in %')[i]).toBe('1.5');
      expect(Number(column('u of the change in %')[i])).toBeLessThan(
        Number(column('u of the change, all counted, in %')[i]),
      );
    }
  });

  test('shows the truth beside it: one factor has moved, and only that one is said to have', () => {
    // truth.json of both studies: 1.35576 ÷ 1.21968 − 1 = 11.2 % at 405 nm, nothing elsewhere.
    expect(columnOf(run, 'parts', 'True change in %')).toEqual(['11', '0', '0', '0']);
    const verdicts = columnOf(run, 'parts', 'Verdict');
    expect(verdicts[0]).toBe('has moved');
    expect(verdicts.slice(1)).not.toContain('has moved');
    expect(sentencesOf(run, 'pair-words').join(' ')).toContain('405 nm, has moved');
  });

  test('no check differs from the one before, and the chart sees the creep', () => {
    const column = (title: string) => columnOf(run, 'check-by-check', title);
    for (const [i, one] of checks.entries()) {
      expectPrinted(column('Factor K')[i], one.factors[0]!.factor);
      expectPrinted(column('True K')[i], hidden(creeping[i]!));
      if (i === 0) continue;
      const [change] = compareFactors(checks[i - 1]!, one).wavelengths;
      expectPrinted(column('Since the check before, in %')[i], change!.change_percent!);
    }
    expect(column('This comparison')).not.toContain('has moved');
    expect(column('The chart')).toEqual(
      chart.values.map((one) => one.signals.join('; ') || 'no rule broken'),
    );
    expect(chart.in_control).toBe(false);
    // The true factor rises by half a percent a check.
    expect(hidden(creeping[11]!) / hidden(creeping[0]!)).toBeCloseTo(1.005 ** 11, 9);
    expect(sentencesOf(run, 'chart').join(' ')).toContain(`out of control: ${chart.why}`);
  });

  test('sets both kinds of limits beside each other, with and without the shared calibration', () => {
    const inFull = chartOf(
      checks.map((one, i) => ({ ...one, reference: { ...one.reference, name: `other ${i}` } })),
    );
    const careless = chartOf(
      reCheckScenarios({ ...plan, placement_sd: 0.025, seed: 8 }).map(compared),
    );
    const expectLimits = (id: string, row: number, one: ReChecks) => {
      const column = (title: string) => columnOf(run, id, title)[row];
      expectPrinted(column('Centre'), one.centre!);
      for (const side of [0, 1] as const) {
        expectPrinted(ends(column('Limits from the scatter'))[side], one.limits![side]);
        expectPrinted(
          ends(column('Limits from the uncertainty'))[side],
          one.limits_from_uncertainty![side],
        );
      }
      expectPrinted(column('Scatter over uncertainty'), one.scatter_ratio!);
    };
    expectLimits('in-full', 0, chart);
    expectLimits('in-full', 1, inFull);
    expectLimits('limits', 0, careless);
    // What the prose says: all values lie between the limits that count the calibrations in full ...
    const [low, high] = inFull.limits_from_uncertainty!;
    expect(chart.values.every((one) => one.factor! > low && one.factor! < high)).toBe(true);
    // ... and careless hands scatter more than the budget explains.
    expect(careless.scatter_ratio).toBeGreaterThan(1.5);
    expect(sentencesOf(run, 'shaky').at(-1)).toBe(careless.why);
    expect(columnOf(run, 'few', 'Values')).toEqual(['3', '4', '6', '8', '12']);
    for (const [row, count] of [3, 4, 6, 8, 12].entries()) {
      expectLimits('few', row, chartOf(checks.slice(0, count)));
    }
  });

  test('shows the units with their truth, and both intervals unit by unit', () => {
    for (const [i, unit] of units.entries()) {
      expectPrinted(columnOf(run, 'units', 'Factor K')[i], unit.factor);
      expectPrinted(columnOf(run, 'units', 'True K')[i], hidden(production[i]!));
    }
    expect(columnOf(run, 'unit-by-unit', 'Units')).toHaveLength(11);
    for (const count of [2, 5, 12]) {
      const one = severalUnits({ units: units.slice(0, count), tolerance: 0.05, confidence: 0.95 });
      for (const side of [0, 1] as const) {
        const at = (title: string) => ends(columnOf(run, 'unit-by-unit', title)[count - 2])[side];
        expectPrinted(at('Interval of the mean'), one.meanInterval[side]);
        expectPrinted(at('A further unit'), one.furtherUnit[side]);
      }
    }
    expect(sentencesOf(run, 'unit-by-unit')[0]).toBe(found.why);
  });

  test('counts the units that nobody compared: many miss the interval of the mean', () => {
    const further = unitScenarios({ ...model, units: 32 })
      .slice(12)
      .map(hidden);
    const within = ([low, high]: readonly [number, number]) =>
      further.filter((factor) => factor >= low && factor <= high).length;
    expect(sentencesOf(run, 'units-figure').slice(1)).toEqual([
      `Of 20 further units, ${within(found.meanInterval)} lie in the interval of the mean and ${within(found.furtherUnit)} in the interval for a further unit.`,
    ]);
    expect(within(found.meanInterval)).toBeLessThan(14);
    expect(within(found.furtherUnit)).toBeGreaterThan(16);
    // Further units change nothing in the first ones.
    expect(unitScenarios({ ...model, units: 32 }).slice(0, 12)).toEqual(production);
  });

  test('draws three figures, with words for each', () => {
    for (const id of ['chart', 'shaky', 'units-figure']) {
      expect(htmlOf(run, id)).toContain('role="img"');
    }
  });

  test('checks the exercise', () => {
    const [, before, after, shared] =
      /at 405 nm: u then ([\d.]+) %, u now ([\d.]+) %; .* ([\d.]+) %/.exec(
        sentencesOf(run, 'task').join(' '),
      ) ?? [];
    expectPrinted(before, u);
    expectPrinted(after, v);
    expectPrinted(shared, c);
    expect(sentencesOf(run, 'answer')[0]).toMatch(/^No answer yet. Write it/);
    const [, right] = /^Right: (\d+\.\d+)/.exec(sentencesOf(run, 'answer-0')[0] ?? '') ?? [];
    // The certificate is common to both evenings and drops out of both.
    expectPrinted(right, Math.sqrt(u ** 2 + v ** 2 - 2 * c ** 2));
    expect(sentencesOf(run, 'answer-1')[0]).toContain('counts the reference twice');
    expect(sentencesOf(run, 'answer-2')[0]).toContain('out of both');
    expect(sentencesOf(run, 'answer-3')[0]).toContain('add as squares');
    expect(sentencesOf(run, 'answer-4')[0]).toMatch(/^Not yet. Hint: /);
    expect(errorStreams(run)).toEqual([]);
  });
});

describe('with files of one’s own', () => {
  test('takes them in the place of the invented data, and shows no truth', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'meterpair-test-'));
    mkdirSync(join(folder, 'files'));
    const keep = (name: string, factors: Factors) => {
      writeFileSync(join(folder, 'files', name), factorsFile(factors));
      return join(folder, 'files', name);
    };
    const candidate = { name: 'My meter', resolution_mW: 1, rated_max_mW: null };
    const own = [1, 2, 3].map((i) => madeFactors(i, { candidate, title: `My evening ${i}` }));
    const unitList = [4, 5].map((i) => madeFactors(i));
    const list = (files: readonly string[]) => `= [${files.map((one) => `'${one}'`).join(', ')}];`;
    const notebook = JSON.parse(readFileSync(join(root, 'notebooks', NAME), 'utf8')) as {
      cells: { id: string; source: string | readonly string[] }[];
    };
    const cell = notebook.cells.find((one) => one.id === 'own-files')!;
    cell.source = sourceText(cell)
      .replace('= [];', list(own.map((one, i) => keep(`own-${i}.json`, one))))
      .replace('= [];', list(unitList.map((one, i) => keep(`unit-${i}.json`, one))));
    writeFileSync(join(folder, NAME), JSON.stringify(notebook));
    const run = await runNotebook({ notebook: join(folder, NAME), cwd: join(root, 'notebooks') });
    expect(sentencesOf(run, 'used').join(' ')).not.toContain('invented');
    expect(sentencesOf(run, 'pair')).toEqual(['Then: My evening 2.', 'Now: My evening 3.']);
    expect(columnOf(run, 'check-by-check', 'Study')).toEqual(own.map((one) => one.title));
    expect(htmlOf(run, 'check-by-check') + htmlOf(run, 'parts') + htmlOf(run, 'units')).not.toMatch(
      /True/,
    );
    expect(columnOf(run, 'units', 'Unit')).toEqual(['Unit 4', 'Unit 5']);
    // √(2.5² − 1.5²) % = 2 %; of the change √2 times that.
    expect(columnOf(run, 'units', 'u without the reference in %')).toEqual(['2.0', '2.0']);
    expect(columnOf(run, 'parts', 'u of the change in %')).toEqual(['2.8']);
    // The words for the figure, and no count of units that nobody knows.
    expect(sentencesOf(run, 'units-figure')).toHaveLength(1);
    expect(errorStreams(run)).toEqual([]);
  });

  test('says at the top what it does not use: one file is no pair', async () => {
    const folder = join(root, 'data-demo', '1-workshop-evening');
    const own = await ownFactors({ reChecks: [folder], units: [] });
    expect([own.pair, own.checks, own.units]).toEqual([null, null, null]);
    expect(own.sentences).toEqual([
      'Then and now: invented data, because you named 1 and this takes 2 or more; what you named is not used here.',
      'Again and again: invented data, because you named 1 and this takes 3 or more; what you named is not used here.',
      'Several units: invented data.',
    ]);
  });
});
