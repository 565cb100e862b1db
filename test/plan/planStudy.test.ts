import Papa from 'papaparse';
import { describe, expect, test } from 'vitest';
import { planStudy, type StudyWishes } from '../../src/plan/planStudy.js';
import { parseStudy } from '../../src/record/parseStudy.js';

const WISHES: StudyWishes = {
  title: 'Invented plan',
  meters: {
    reference: { name: 'Meter R', resolution_mW: 0.01, rated_max_mW: 3000, noise: 0.005 },
    candidate: { name: 'Meter C', resolution_mW: 0.1, rated_max_mW: 500, noise: 0.008 },
  },
  sources: [{ name: 'violet', wavelength_nm: 405, power_mW: 90, beam_diameter_mm: 2 }],
  certificate: { expanded_uncertainty: 0.03, coverage_factor: 2 },
  tolerance: 0.06,
  wanted: 0.06,
  confidence: 0.95,
  source_noise: 0,
  placement: 'jig',
  order: 'ABBA-BAAB',
  most_series: 2,
  most_laps: 12,
  slower_time_constant_s: 6,
  read_at_s: null,
  on_time_s: null,
  rest_s: 30,
};
const said = (wishes: Partial<StudyWishes>) =>
  planStudy({ ...WISHES, ...wishes }).sentences.join('\n');

describe('what it says', () => {
  const plan = planStudy(WISHES);
  const text = plan.sentences.join('\n');

  test('U, what it is made of, and the shares are all of it', () => {
    expect(plan.plans[0].design).not.toBeNull();
    const [, list = ''] = /variance of such a reading is made of ([^\n]*)\./.exec(text) ?? [];
    const shares = [...list.matchAll(/([\d.]+) %/g)].map(([, share]) => Number(share));
    expect(list).toContain('calibration of the reference');
    // Parts below 1 % are not named.
    expect(shares.reduce((a, b) => a + b, 0)).toBeGreaterThan(95);
    expect(shares.reduce((a, b) => a + b, 0)).toBeLessThan(101.5);
    expect(Math.min(...shares)).toBeGreaterThanOrEqual(1);
  });

  test('reading time, duration and power density, by hand', () => {
    // Five time constants of 6 s; 16 runs of 60 s; 0.09 W on π·(0.1 cm)².
    expect(plan.size).toEqual({ series: 1, laps: 8 });
    expect(text).toContain('Read 30 s after switch-on.');
    expect(text).toContain('16 runs of 60 s take about 16 minutes');
    expect(text).toContain('90 mW in 2 mm is 2.9 W/cm² on average');
    expect(text).toContain('Each head is lit for 30 s and rests for 30 s or more.');
  });

  test('three powers where the range is wide enough: the geometric middle between', () => {
    // Least power for a fifth of 6 %: 2·√2·0.1/√12/(0.2·0.06) = 6.8 mW; √(6.8·90) = 25.
    expect(text).toContain('about 6.8 mW, 25 mW and 90 mW');
  });

  test('what is not known is said', () => {
    expect(said({ slower_time_constant_s: null })).toContain('When to read is not said');
    expect(said({ sources: [{ ...WISHES.sources[0], power_mW: null }] })).toContain(
      'its power is not said',
    );
  });

  test('ratings: a power above one, and a reading that is due after the head may be lit', () => {
    expect(said({ sources: [{ ...WISHES.sources[0], power_mW: 900 }] })).toContain(
      'is above the 500 mW that the candidate is rated for',
    );
    expect(said({ on_time_s: 20 })).toContain('may be lit for 20 s only');
    expect(said({ on_time_s: 30 })).toContain('Each head is lit for 30 s');
  });
});

describe('what it writes', () => {
  const sources = [
    ...WISHES.sources,
    { name: 'red', wavelength_nm: 638, power_mW: 200, beam_diameter_mm: null },
  ];
  const plan = planStudy({ ...WISHES, sources });

  test('a study that is read once readings are filled in', () => {
    const rows = Papa.parse<Record<string, string>>(plan.runs, {
      header: true,
      skipEmptyLines: true,
    });
    expect(rows.data).toHaveLength(2 * 2 * plan.size.laps * plan.size.series);
    const filled = rows.data.map((row, i) => ({ ...row, reading_mW: String(50 + (i % 3)) }));
    const study = parseStudy(plan.study, { runs: Papa.unparse(filled) });
    expect(study.series.map((one) => one.source)).toEqual(['violet', 'red']);
    expect(study).toMatchObject({ tolerance: 0.06, confidence: 0.95 });
    expect(study.protocol).toMatchObject({ order: 'ABBA-BAAB', placement: 'jig', read_at_s: 30 });
    expect(study.reference).toMatchObject({ expanded_uncertainty_percent: 3, coverage_factor: 2 });
    const contrary = study.warnings.filter(({ code }) => code === 'order-differs');
    expect(contrary).toEqual([]);
  });

  test('a source that no design serves does not stretch the others', () => {
    const weak = { name: 'weak', wavelength_nm: 650, power_mW: null, beam_diameter_mm: null };
    const hopeless = planStudy({ ...WISHES, sources: [...WISHES.sources, weak], wanted: 0.02 });
    expect(hopeless.plans.map(({ design }) => design)).toEqual([null, null]);
    expect(hopeless.size).toEqual({ series: 1, laps: 8 });
  });

  test('no source, no plan', () => {
    expect(() => planStudy({ ...WISHES, sources: [] })).toThrow(/at least one source/);
    expect(() => planStudy({ ...WISHES, tolerance: 0 })).toThrow(/tolerance must be a fraction/);
  });
});
