import { describe, expect, test } from 'vitest';
import { parseStudy } from '../../src/record/parseStudy.js';
import { analyseInfrared, unisolatedSeries } from '../../src/wavelengths/analyseInfrared.js';
import { chapterOf } from '../analysed.js';
import { near } from '../near.js';

type Passed = readonly (readonly [nm: number, transmission: number])[];

/** 30 mW bare and as stated behind the filter, four laps each; another source without any filter. */
function measured(passed: Passed, behind = 10, settings: object = {}) {
  const lap = (id: string, source: string, filter: string, mW: number, K = 1.1) =>
    `${id},${source},${filter},${K * mW},${mW}`;
  const rows = Array.from({ length: 4 }, () => [
    lap('bare', 'doubled', '', 30),
    lap('red', 'diode', '', 7),
    lap('behind', 'doubled', 'short-pass', behind),
  ]).flat();
  return parseStudy(
    {
      title: 'Invented',
      reference: {
        name: 'R',
        resolution_mW: 0.001,
        expanded_uncertainty_percent: 4,
        coverage_factor: 2,
      },
      candidate: { name: 'C', resolution_mW: 0.001 },
      sources: [
        { name: 'doubled', wavelength_nm: 532 },
        { name: 'diode', wavelength_nm: 650 },
      ],
      filters: [
        {
          name: 'short-pass',
          transmissions: passed.map(([wavelength_nm, transmission]) => ({
            wavelength_nm,
            transmission,
            standard_uncertainty: 0.01,
          })),
        },
      ],
      protocol: { order: 'ABBA' },
      ...settings,
    },
    { runs: `series,source,filter,reference_mW,candidate_mW\n${rows.sort().join('\n')}\n` },
  );
}

describe('series that hold more than the wanted line', () => {
  const of = (passed: Passed) => [...unisolatedSeries(measured(passed))];

  test('are those of the source without the filter that isolates it, and of no other source', () => {
    expect(
      of([
        [532, 0.9],
        [1064, 0.01],
      ]),
    ).toEqual(['bare']);
  });

  test('a filter isolates that passes 0.3 and more of the line, and a tenth of that elsewhere', () => {
    expect(
      of([
        [532, 0.3],
        [1064, 0.03],
      ]),
    ).toEqual(['bare']);
    expect(
      of([
        [532, 0.29],
        [1064, 0.001],
      ]),
    ).toEqual([]);
    expect(
      of([
        [532, 0.3],
        [1064, 0.031],
      ]),
    ).toEqual([]);
  });

  test('the largest transmission in the infrared counts', () => {
    expect(
      of([
        [532, 0.9],
        [808, 0.5],
        [1064, 0.01],
      ]),
    ).toEqual([]);
    expect(
      of([
        [532, 0.9],
        [808, 0.01],
        [1064, 0.5],
      ]),
    ).toEqual([]);
    expect(
      of([
        [532, 0.9],
        [690, 0.9],
        [1064, 0.01],
      ]),
    ).toEqual(['bare']);
  });

  test.each([
    // Infrared begins beyond 700 nm …
    [
      532,
      [
        [532, 0.9],
        [700, 0.9],
        [1064, 0.01],
      ],
      ['bare'],
    ],
    [
      532,
      [
        [532, 0.9],
        [701, 0.9],
        [1064, 0.01],
      ],
      [],
    ],
    // … and what lies within 5 nm of the line is the line itself, on either side.
    [
      810,
      [
        [810, 0.9],
        [815, 0.9],
        [805, 0.9],
        [1064, 0.01],
      ],
      ['bare'],
    ],
    [
      810,
      [
        [810, 0.9],
        [815.1, 0.9],
        [1064, 0.01],
      ],
      [],
    ],
    [
      810,
      [
        [810, 0.9],
        [804.9, 0.9],
        [1064, 0.01],
      ],
      [],
    ],
  ] as const)('infrared beside a line of %i nm: %j', (nm, passed, series) => {
    const study = measured(passed);
    const at = study.series.map((one) => ({ ...one, wavelength_nm: nm }));
    expect([...unisolatedSeries({ ...study, series: at })]).toEqual(series);
  });

  test('a filter that nobody describes isolates nothing', () => {
    const passed = [
      [532, 0.9],
      [1064, 0.01],
    ] as const;
    expect([...unisolatedSeries({ ...measured(passed), filters: [] })]).toEqual([]);
  });

  test('a filter of which only one of both is stated isolates nothing', () => {
    expect(of([[532, 0.9]])).toEqual([]);
    expect(of([[1064, 0.01]])).toEqual([]);
  });
});

describe('the infrared of a source measured with and without a filter', () => {
  test('r₀ = w + i, r₁ = Tw·w + Ti·i: 33 mW bare and 11 behind 0.8 and 0.05', () => {
    // Reference 1.1·30 = 33 and 1.1·10 = 11: w = (11 − 0.05·33) ÷ 0.75 = 12.467, i = 20.533
    const { study, series } = chapterOf(
      measured([
        [532, 0.8],
        [1064, 0.05],
      ]),
    );
    const found = analyseInfrared(study, series);
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({ source: 'doubled', filter: 'short-pass', wavelength_nm: 532 });
    near(found[0].wanted_mW, 9.35 / 0.75, 1e-6);
    near(found[0].infrared_mW, 33 - 9.35 / 0.75, 1e-6);
    near(found[0].infrared_fraction, 1 - 9.35 / 0.75 / 33, 1e-6);
    // Readings do not scatter. With q = r₁/r₀ = 1/3 the fraction is f = (Tw − q)/(Tw − Ti):
    // ∂f/∂Tw = (q − Ti)/0.75² = 0.5037, ∂f/∂Ti = (Tw − q)/0.75² = 0.8296; u(T) = 0.01 each
    near(found[0].infrared_fraction_standard_uncertainty, 0.01 * Math.hypot(0.5037, 0.8296), 1e-5);
  });

  test('in words each part has its own u, the calibration of 2 % in both', () => {
    const passed = [
      [532, 0.8],
      [1064, 0.05],
    ] as const;
    // u of both transmissions: 0.01/0.75·√(12.467² + 20.533²) = 0.3203; with 2 % of 12.467 and of 20.533:
    // 0.406 and 0.521; and without a calibration that is stated 0.32 in both
    const { infrared, unisolated } = chapterOf(measured(passed));
    expect([...unisolated]).toEqual(['bare']);
    expect(infrared[0].why).toContain(
      '12.5 mW (standard uncertainty 0.406 mW) belong to the wanted line and 20.5 mW (0.521 mW)',
    );
    expect(infrared[0].why).toMatch(/wavelength\. Readings of the reference; .* the same power\.$/);
    const unstated = measured(passed, 10, { reference: { name: 'R', resolution_mW: 0.001 } });
    expect(chapterOf(unstated).infrared[0].why).toMatch(/uncertainty 0\.32\d* mW.*\(0\.32\d* mW\)/);
  });

  test('the bare series is that of the same source, wherever it stands', () => {
    const { study, series } = chapterOf(
      measured([
        [532, 0.8],
        [1064, 0.05],
      ]),
    );
    const turned = [...study.series].reverse();
    expect(analyseInfrared({ ...study, series: turned }, series)).toEqual(
      analyseInfrared(study, series),
    );
    const alone = study.series.filter(({ id }) => id !== 'bare');
    expect(analyseInfrared({ ...study, series: alone }, series)).toEqual([]);
    expect(analyseInfrared({ ...study, filters: [] }, series)).toEqual([]);
  });

  const nothing = {
    source: 'doubled',
    filter: 'short-pass',
    wavelength_nm: 532,
    wanted_mW: null,
    infrared_mW: null,
    infrared_fraction: null,
    infrared_fraction_standard_uncertainty: null,
  };

  test('a filter that passes both alike tells nothing, and why', () => {
    const { infrared } = chapterOf(
      measured([
        [532, 0.8],
        [1064, 0.75],
      ]),
    );
    expect(infrared).toEqual([{ ...nothing, why: expect.stringContaining('too close together') }]);
  });

  test.each(['bare', 'behind'])(
    'without readings of the series "%s" nothing can be told',
    (gone) => {
      const { study, series } = chapterOf(
        measured([
          [532, 0.8],
          [1064, 0.05],
        ]),
      );
      const why = expect.stringContaining('both series need readings');
      const others = series.filter(({ result }) => result.id !== gone);
      expect(analyseInfrared(study, others)).toEqual([{ ...nothing, why }]);
      const unfitted = series.map((one) =>
        one.result.id === gone ? { ...one, model: null } : one,
      );
      expect(analyseInfrared(study, unfitted)).toEqual([{ ...nothing, why }]);
    },
  );

  test('the scatter of the reference is that of a mean: s ÷ √n', () => {
    const { study, series } = chapterOf(
      measured([
        [532, 0.8],
        [1064, 0.05],
      ]),
    );
    const noisy = series.map((one) => ({
      ...one,
      result: { ...one.result, repeatability: { reference: 0.04, candidate: 0.5 } },
    }));
    const [found] = analyseInfrared(
      {
        ...study,
        filters: study.filters.map((filter) => ({
          ...filter,
          transmissions: filter.transmissions.map((t) => ({ ...t, standard_uncertainty: 0 })),
        })),
      },
      noisy,
    );
    // q = 1/3 to √2 · 4 %/√4 = 2.83 %: u(f) = q · 0.0283 ÷ 0.75
    near(found.infrared_fraction_standard_uncertainty, (0.02 * Math.SQRT2) / 3 / 0.75, 1e-5);
  });

  test('without a transmission in the infrared nothing can be told, and it is said', () => {
    const { study, series } = chapterOf(measured([[532, 0.8]]));
    const [found] = analyseInfrared(study, series);
    expect([found.wanted_mW, found.infrared_fraction]).toEqual([null, null]);
    expect(found.why).toMatch(/^The filter needs transmissions/);
    const none = analyseInfrared(
      chapterOf(
        measured([
          [532, 0.8],
          [1064, 0.05],
        ]),
      ).study,
      [],
    );
    expect(none[0].wanted_mW).toBeNull();
  });
});
