import fc from 'fast-check';
import Papa from 'papaparse';
import { describe, expect, test } from 'vitest';
import type { Scenario } from '../../src/simulate/scenario.js';
import { virtualStudy } from '../../src/simulate/virtualStudy.js';
import { mean } from '../../src/statistics/summary.js';

const SCENARIO: Scenario = {
  folder: 'test',
  seed: 1_234_567_891,
  opens_at: '2024-01-02T10:00:00Z',
  layout: 'tidy',
  study: {
    title: 'A test (invented)',
    reference: { name: 'R', resolution_mW: 0.1, wavelength_setting: true },
    candidate: { name: 'C', resolution_mW: 1 },
    sources: [{ name: 'laser', wavelength_nm: 532 }],
    filters: [
      {
        name: 'block',
        transmissions: [
          { wavelength_nm: 532, transmission: 0.8, standard_uncertainty: 0.01 },
          { wavelength_nm: 1064, transmission: 0.02, standard_uncertainty: 0.001 },
        ],
      },
    ],
  },
  series: [
    { id: 'one', source: 'laser', starts_min: 5, bench: { laps: 3, level_mW: 100, factor: 1.25 } },
  ],
  story: ['A story.'],
  hidden: ['Nothing.'],
  expect: ['Nothing.'],
};

const BEAM = [
  { wavelength_nm: 532, power_mW: 60, factor: 1.2 },
  { wavelength_nm: 1064, power_mW: 40, factor: 0.8 },
];

const rows = (scenario: Scenario, file = 'runs.csv') =>
  Papa.parse<Record<string, string>>(virtualStudy(scenario).files[file] ?? '', {
    header: true,
    skipEmptyLines: true,
  }).data;

const withSeries = (change: Partial<Scenario['series'][number]>): Scenario => ({
  ...SCENARIO,
  series: [{ ...SCENARIO.series[0]!, ...change }],
});

test('a quiet bench writes exactly what both displays show', () => {
  expect(virtualStudy(SCENARIO).files['runs.csv']).toBe(
    [
      'series,source,started_at,meter,setting_nm,reading_mW',
      'one,laser,2024-01-02T10:05:00Z,reference,532,100.0',
      'one,laser,2024-01-02T10:05:45Z,candidate,,80',
      'one,laser,2024-01-02T10:06:30Z,reference,532,100.0',
      'one,laser,2024-01-02T10:07:15Z,candidate,,80',
      'one,laser,2024-01-02T10:08:00Z,reference,532,100.0',
      'one,laser,2024-01-02T10:08:45Z,candidate,,80',
      '',
    ].join('\n'),
  );
});

test('the same scenario gives the same bytes, another seed others', () => {
  const noisy = withSeries({
    bench: { laps: 5, level_mW: 100, factor: 1.25, noise: { reference: 0.01, candidate: 0.02 } },
  });
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 2 ** 31 }), (seed) => {
      const files = virtualStudy({ ...noisy, seed }).files;
      expect(virtualStudy({ ...noisy, seed }).files).toEqual(files);
      expect(virtualStudy({ ...noisy, seed: seed + 1 }).files['runs.csv']).not.toBe(
        files['runs.csv'],
      );
    }),
    { seed: 23, numRuns: 20 },
  );
});

test('study.json is the study of the scenario, and truth.json the truth', () => {
  const { files, truth } = virtualStudy(SCENARIO);
  expect(JSON.parse(files['study.json']!)).toEqual(SCENARIO.study);
  expect(JSON.parse(files['truth.json']!)).toEqual(truth);
  expect(truth.series[0]).toMatchObject({ factor_to_truth: 1.25, apparent_factor: 1.25 });
  expect(truth.sources[0]?.highest_power_mW).toBe(100);
});

test('the error of the reference and the placement enter readings and truth as they should', () => {
  const scenario = withSeries({ reference_error: 0.02, placement: 0.95 });
  // Reference 100 × 1.02; candidate 100 / 1.25 × 0.95 = 76.
  expect(rows(scenario).map((row) => row.reading_mW)).toEqual([
    '102.0',
    '76',
    '102.0',
    '76',
    '102.0',
    '76',
  ]);
  const [truth] = virtualStudy(scenario).truth.series;
  expect(truth?.factor_to_truth).toBe(1.25);
  expect(truth?.factor_to_reference).toBeCloseTo(1.25 * 1.02, 5);
  expect(truth?.apparent_factor).toBeCloseTo(102 / 76, 5);
  expect(truth?.power_mW).toEqual([100, 100, 100, 100, 100, 100]);
});

test('dark readings are shown and written down', () => {
  const scenario = withSeries({
    bench: {
      ...SCENARIO.series[0]!.bench,
      zero_mW: { reference: 0.4, candidate: -2 },
      zero_recorded: true,
    },
  });
  expect(rows(scenario).slice(0, 2)).toMatchObject([
    { reading_mW: '100.4', zero_mW: '0.4' },
    { reading_mW: '78', zero_mW: '-2' },
  ]);
});

test('an incident spoils its run only, and its reason is written down', () => {
  const scenario = withSeries({
    incidents: [{ run: 4, reading_factor: 0.5, exclude: 'head knocked', note: 'ouch' }],
  });
  const found = rows(scenario);
  expect(found.map((row) => row.reading_mW)).toEqual(['100.0', '80', '100.0', '40', '100.0', '80']);
  expect(found.map((row) => row.exclude)).toEqual(['', '', '', 'head knocked', '', '']);
});

test('a setting series has one meter under two settings', () => {
  const found = rows(
    withSeries({
      setting: { meter: 'reference', from_nm: 532, to_nm: 650 },
      bench: { laps: 2, order: 'ABBA', level_mW: 100, factor: 1 / 1.03 },
      reference_error: 0.5,
    }),
  );
  expect(found.map((row) => row.meter)).toEqual([
    'reference',
    'reference',
    'reference',
    'reference',
  ]);
  expect(found.map((row) => row.setting_nm)).toEqual(['532', '650', '650', '532']);
  // Its own error cancels in the ratio, and the truth of the level is the scenario's.
  expect(found.map((row) => row.reading_mW)).toEqual(['100.0', '103.0', '103.0', '100.0']);
});

test('a mixed beam shows each part with its own factor, less what the filter takes', () => {
  const bare = withSeries({ beam: BEAM });
  // 60/1.2 + 40/0.8 = 100.
  expect(
    rows(bare)
      .slice(0, 2)
      .map((row) => row.reading_mW),
  ).toEqual(['100.0', '100']);
  const blocked = withSeries({ beam: BEAM, filter: 'block' });
  // 0.8 × 60 + 0.02 × 40 = 48.8; 48/1.2 + 0.8/0.8 = 41.
  expect(
    rows(blocked)
      .slice(0, 2)
      .map((row) => row.reading_mW),
  ).toEqual(['48.8', '41']);
  expect(rows(blocked)[0]?.filter).toBe('block');
  expect(virtualStudy(blocked).truth.sources[0]?.highest_power_mW).toBeNull();
});

test('runs.csv takes reading and peak from the traces', () => {
  const traced = withSeries({
    bench: {
      ...SCENARIO.series[0]!.bench,
      noise: { reference: 0.005, candidate: 0.005 },
      lag: { time_constant_s: { reference: 1, candidate: 4 }, read_at_s: 12 },
    },
    trace: { every_s: 2, until_s: 40 },
  });
  const traces = rows(traced, 'traces.csv');
  expect(traces).toHaveLength(6 * 21);
  rows(traced).forEach((run, index) => {
    const own = traces.filter((row) => row.run === String(index + 1));
    expect(new Set(own.map((row) => row.meter))).toEqual(new Set([run.meter]));
    expect(own.find((row) => row.elapsed_s === '12')?.reading_mW).toBe(run.reading_mW);
    expect(Math.max(...own.map((row) => Number(row.reading_mW)))).toBe(Number(run.peak_mW));
  });
  // The slow sensor lacks e^-3 = 5.0 % at 12 s and has settled at 40 s.
  const candidate = (elapsed: string) =>
    mean(
      traces
        .filter((row) => row.meter === 'candidate' && row.elapsed_s === elapsed)
        .map((row) => Number(row.reading_mW)),
    );
  expect(candidate('12') / 80).toBeCloseTo(0.95, 1);
  expect(candidate('40') / 80).toBeCloseTo(1, 1);
  expect(candidate('40')).toBeGreaterThan(candidate('12') + 2);
});

test('side by side, each row is a lap whichever meter went first', () => {
  const scenario: Scenario = {
    ...withSeries({ bench: { laps: 2, order: 'ABBA', level_mW: 100, factor: 1.25 } }),
    layout: 'side-by-side',
    opens_at: null,
    study: { ...SCENARIO.study, protocol: { order: 'ABBA' } },
  };
  expect(virtualStudy(scenario).files['runs.csv']).toBe(
    'series,source,reference_mW,candidate_mW\none,laser,100.0,80\none,laser,100.0,80\n',
  );
});

test('README.md says that everything is invented, and gives the truth', () => {
  const readme = virtualStudy(SCENARIO).files['README.md']!;
  expect(readme).toContain('**Invented.**');
  expect(readme).toContain('A story.');
  expect(readme).toMatch(/\| one \| laser \| 532 \| 3 \| reference-first \| .* \| 1\.2500 \|/);
});

describe('a scenario that contradicts itself is refused', () => {
  const setting = { meter: 'reference', from_nm: 1, to_nm: 2 } as const;
  test.each<[string, Scenario]>([
    ['a source nobody has', withSeries({ source: 'other' })],
    ['a filter nobody has', withSeries({ beam: BEAM, filter: 'other' })],
    ['a trace without a lag', withSeries({ trace: { every_s: 1, until_s: 10 } })],
    ['a setting side by side', { ...withSeries({ setting }), layout: 'side-by-side' }],
    [
      'two orders side by side',
      {
        ...withSeries({ bench: { ...SCENARIO.series[0]!.bench, order: 'ABBA' } }),
        layout: 'side-by-side',
      },
    ],
  ])('%s', (_, scenario) => {
    expect(() => virtualStudy(scenario)).toThrowError(
      expect.objectContaining({ code: 'argument-wrong' }),
    );
  });
});
