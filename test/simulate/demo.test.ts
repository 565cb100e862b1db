import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { parseStudy } from '../../src/record/parseStudy.js';
import { demoScenarios } from '../../src/simulate/demo/demoScenarios.js';
import { virtualStudy } from '../../src/simulate/virtualStudy.js';
import { mean } from '../../src/statistics/summary.js';

const ROOT = fileURLToPath(new URL('../../data-demo/', import.meta.url));

test('there is one folder for each scenario and no other', () => {
  const folders = readdirSync(ROOT, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map((entry) => entry.name);
  expect(folders.sort()).toEqual(demoScenarios.map((scenario) => scenario.folder));
});

describe.each(demoScenarios.map((scenario) => [scenario.folder, scenario] as const))(
  '%s',
  (folder, scenario) => {
    const { files, truth } = virtualStudy(scenario);
    const study = () =>
      parseStudy(JSON.parse(files['study.json']!), {
        runs: files['runs.csv']!,
        ...(files['traces.csv'] === undefined ? {} : { traces: files['traces.csv'] }),
        ...(files['opinions.json'] === undefined ? {} : { opinions: files['opinions.json'] }),
      });

    test('the files in the folder are what the virtual bench makes', () => {
      expect(readdirSync(ROOT + folder).sort()).toEqual(Object.keys(files).sort());
      for (const [name, content] of Object.entries(files)) {
        expect(readFileSync(`${ROOT}${folder}/${name}`, 'utf8')).toBe(content);
      }
    });

    test('it is marked as invented', () => {
      expect(scenario.study.title).toContain('(invented)');
      expect(files['README.md']).toContain('**Invented.**');
      expect(truth.invented).toBe(true);
    });

    test('it reads as a study without a fault, with the right series, laps and order', () => {
      const { series, warnings, layout } = study();
      expect(layout).toBe(scenario.layout);
      // Only the school's borrowed reference comes without a certificate.
      expect(warnings.map((warning) => warning.code)).toEqual(
        folder === '2-side-by-side' ? ['reference-uncertainty-not-stated'] : [],
      );
      expect(series.map((one) => one.id)).toEqual(scenario.series.map((plan) => plan.id));
      series.forEach((one, index) => {
        const plan = scenario.series[index]!;
        expect(one.runs).toHaveLength(2 * plan.bench.laps);
        expect(one.kind).toBe(plan.setting === undefined ? 'comparison' : 'setting');
        expect(one.filter).toBe(plan.filter ?? null);
        expect(one.runs.filter((run) => run.exclude !== null).map((run) => run.run)).toEqual(
          (plan.incidents ?? []).filter((x) => x.exclude !== undefined).map((x) => x.run),
        );
      });
    });

    test('the truth is inside sensible bounds and the readings follow it', () => {
      const { series } = study();
      truth.series.forEach((one, index) => {
        expect(one.factor_to_truth).toBeGreaterThan(0.5);
        expect(one.factor_to_truth).toBeLessThan(2);
        expect(one.apparent_factor / one.factor_to_reference).toBeGreaterThan(0.94);
        expect(one.apparent_factor / one.factor_to_reference).toBeLessThan(1.06);
        expect(Math.min(...one.power_mW)).toBeGreaterThan(1);
        expect(Math.max(...one.power_mW)).toBeLessThan(3000);
        // Each candidate reading times the factor that the readings show, over the true power.
        const plan = scenario.series[index]!;
        const high = 1 + (plan.setting === undefined ? (plan.reference_error ?? 0) : 0);
        const ratios = series[index]!.runs.filter((run) => run.exclude === null).map((run) => {
          const second = run.meter === 'candidate' || run.setting_nm === plan.setting?.to_nm;
          const gain = second ? one.apparent_factor : 1;
          const slip = one.slips.find((each) => each.run === run.run);
          return ((slip?.shown_mW ?? run.reading_mW) * gain) / (high * one.power_mW[run.run - 1]!);
        });
        expect(Math.abs(mean(ratios) - 1)).toBeLessThan(0.01);
        expect(Math.max(...ratios.map((ratio) => Math.abs(ratio - 1)))).toBeLessThan(0.05);
      });
    });
  },
);

test('the evening has every trouble it promises', () => {
  const evening = demoScenarios[0]!;
  const { series } = virtualStudy(evening).truth;
  const factors = (nm: number) =>
    series.filter((one) => one.wavelength_nm === nm).map((one) => one.factor_to_truth);
  const wavelengths = [...new Set(series.map((one) => one.wavelength_nm))];
  expect(wavelengths.length).toBeGreaterThanOrEqual(5);
  expect(new Set(wavelengths.map((nm) => factors(nm)[0])).size).toBeGreaterThanOrEqual(5);
  expect(factors(450)).toHaveLength(4);
  // Heads put up again between the series.
  expect(factors(520)).toHaveLength(3);
  expect(factors(808)).toHaveLength(2);
  const power = (id: string) => series.find((one) => one.id === id)!.power_mW;
  // Droop: the last run lies well below the first.
  expect(power('violet').at(-1)! / power('violet')[0]!).toBeLessThan(0.9);
  // Cold start: the first run lies well below the second.
  expect(power('red')[0]! / power('red')[1]!).toBeLessThan(0.9);
  // Unstable: the strongest run is far above the weakest.
  expect(Math.max(...power('cyan')) / Math.min(...power('cyan'))).toBeGreaterThan(1.2);
  // Heat sink: the factor shown at the highest power differs.
  const shown = (id: string) => series.find((one) => one.id === id)!.apparent_factor;
  for (const id of ['blue lowest', 'blue low', 'blue middle']) {
    expect(shown('blue high') / shown(id)).toBeGreaterThan(1.02);
  }
  // Mislabelled: class 3R up to 5 mW on the label; many times as much in truth.
  const label = evening.study.sources.find((source) => source.name === 'violet marker module');
  expect(label).toMatchObject({ label_class: '3R', label_max_mW: 5 });
  expect(Math.min(...power('violet'))).toBeGreaterThan(15 * 5);
});

test('a year later only the violet factor has moved', () => {
  const at = (folder: string, nm: number) => {
    const scenario = demoScenarios.find((one) => one.folder === folder)!;
    return virtualStudy(scenario).truth.series.find(
      (one) => one.wavelength_nm === nm && one.kind === 'comparison',
    )!.factor_to_truth;
  };
  const moved = (nm: number) => at('5-a-year-later', nm) / at('1-workshop-evening', nm);
  expect(moved(405)).toBeGreaterThan(1.1);
  for (const nm of [520, 638, 808]) expect(moved(nm)).toBe(1);
});

test('one entry of the slip of the pen is ten times what the display showed, and no other', () => {
  const scenario = demoScenarios.find((one) => one.folder === '7-slip-of-the-pen')!;
  const { files, truth } = virtualStudy(scenario);
  const { series } = parseStudy(JSON.parse(files['study.json']!), { runs: files['runs.csv']! });
  const [slipped, clean] = truth.series;
  expect(slipped!.slips).toHaveLength(1);
  expect(clean!.slips).toEqual([]);
  const [{ run, shown_mW, typed_mW }] = slipped!.slips as [(typeof slipped)['slips'][number]];
  expect(typed_mW).toBe(Math.round(10 * shown_mW));
  expect(shown_mW / slipped!.power_mW[0]!).toBeCloseTo(1, 1);
  // The typed number is what the analysis reads, in the first lap.
  expect(series[0]!.runs[run - 1]).toMatchObject({ run: 1, lap: 1, reading_mW: typed_mW });
  expect(files['README.md']).toContain(`${typed_mW} mW typed, ${shown_mW} mW shown`);
});

test('a slip that would change nothing is refused', () => {
  const scenario = demoScenarios.find((one) => one.folder === '7-slip-of-the-pen')!;
  const coarse = { ...scenario.study.reference, resolution_mW: 1 };
  expect(() =>
    virtualStudy({ ...scenario, study: { ...scenario.study, reference: coarse } }),
  ).toThrow(/a slip that changes nothing/);
});
