/** Which readings are the power of a source, when a value from elsewhere is held against it. */
import { describe, expect, test } from 'vitest';
import { analyseOpinions } from '../../src/opinions/analyseOpinions.js';
import { curveOfLevels } from '../../src/power/curveOfLevels.js';
import { factorAtPower } from '../../src/power/factorAtPower.js';
import type { OpinionResult, Study } from '../../src/vocabulary.js';
import { chapterOf } from '../analysed.js';
import { near } from '../near.js';
import { type PlannedSeries, steady, studyOf } from '../seriesStudy.js';

const value = {
  source: 'pen',
  kind: 'certificate',
  value_mW: 100,
  expanded_uncertainty_mW: 2,
  coverage_factor: 2,
};
const pen = (id: string, laps: PlannedSeries['laps'], nm = 638): PlannedSeries => ({
  id,
  nm,
  source: 'pen',
  laps,
});
/** Laps that alternate by ± 2 mW about a level, on the reference only. */
const uneven = (mW: number) =>
  Array.from({ length: 6 }, (_, i) => [mW + (i % 2 === 0 ? 2 : -2), 90] as const);
const inputOf = (
  series: readonly PlannedSeries[],
  opinion: object = {},
  change: (study: Study) => Study = (study) => study,
) => {
  const {
    study,
    series: analyses,
    wavelengths,
    steps,
    unisolated,
  } = chapterOf(change(studyOf(series, { opinions: [{ ...value, ...opinion }] })));
  return { study, series: analyses, wavelengths: wavelengths.results, steps, unisolated };
};
const of = (...args: Parameters<typeof inputOf>) => analyseOpinions(inputOf(...args)).results[0];
const ofMeter = (found: OpinionResult, meter: string) =>
  found.comparisons.find((one) => one.meter === meter);
const uOf = (found: OpinionResult) => ofMeter(found, 'reference')?.standard_uncertainty_mW;

describe('several series', () => {
  test('of one power: the mean of both, and the larger scatter of the two', () => {
    // Means 100 and 102; the first scatters by 2·√(6/5) mW = 2.19 %, the second not at all. Placement:
    // what the wavelength shows, at least 1 %. Display 0.001 mW.
    const input = inputOf([pen('a', uneven(100)), pen('b', steady(102, 91))]);
    const found = analyseOpinions(input).results[0];
    const one = ofMeter(found, 'reference');
    near(one?.value_mW, 101, 1e-9);
    expect(found.series).toEqual(['a', 'b']);
    const placement = Math.max(0.01, input.wavelengths[0].between_series_relative_sd ?? 0);
    near(uOf(found), 101 * Math.hypot((2 * Math.sqrt(6 / 5)) / 100, placement), 1e-3);
    near(ofMeter(found, 'candidate')?.value_mW, 90.5, 1e-9);
  });

  test('the placement is never taken for less than the usual 1 %, and for more where it is shown', () => {
    const input = inputOf([pen('a', steady(100, 90))]);
    const with_ = (sd: number | null) =>
      uOf(
        analyseOpinions({
          ...input,
          wavelengths: input.wavelengths.map((one) => ({
            ...one,
            between_series_relative_sd: sd,
          })),
        }).results[0],
      );
    near(with_(0.001), 1, 1e-5);
    near(with_(null), 1, 1e-5);
    near(with_(0.03), 3, 1e-5);
  });

  test('up to a tenth apart are one power; beyond that nobody knows which is meant', () => {
    expect(of([pen('a', steady(100, 90)), pen('b', steady(110, 99))]).comparisons).toHaveLength(3);
    const apart = of([pen('a', steady(100, 90)), pen('b', steady(110.1, 99))]);
    expect(apart.comparisons).toEqual([]);
    expect(apart.why).toContain('run at several powers');
  });

  test('a maker’s value is held against those within a tenth of the highest', () => {
    const series = [pen('a', steady(100, 90)), pen('b', steady(50, 45)), pen('c', steady(109, 98))];
    const found = of(series, { kind: 'maker' });
    expect(found.series).toEqual(['a', 'c']);
    near(ofMeter(found, 'reference')?.value_mW, 104.5, 1e-9);
  });
});

describe('readings that count', () => {
  test('without those that were left out', () => {
    const laps = [[150, 140], ...steady(100, 90)] as const;
    const found = of([pen('a', laps)], {}, (study) => ({
      ...study,
      protocol: { ...study.protocol, discard_first_laps: 1 },
    }));
    near(ofMeter(found, 'reference')?.value_mW, 100, 1e-9);
  });

  test('of this source alone', () => {
    const found = of([pen('a', steady(100, 90)), { id: 'b', nm: 450, laps: steady(300, 270) }]);
    expect(found.series).toEqual(['a']);
  });

  test('behind a filter that is stated: the power in front of it, and K at what was shown', () => {
    const filters = [
      {
        name: 'grey',
        transmissions: [{ wavelength_nm: 638, transmission: 0.5, standard_uncertainty: 0.01 }],
      },
    ];
    const behind = (study: Study) => ({
      ...study,
      filters,
      series: study.series.map((one) => ({ ...one, filter: 'grey' })),
    });
    const found = of([pen('a', steady(50, 45))], {}, behind);
    near(ofMeter(found, 'reference')?.value_mW, 100, 1e-9);
    // 0.01 ÷ 0.5 = 2 % by the filter, 1 % by the placement
    near(uOf(found), Math.hypot(2, 1), 1e-4);
    near(ofMeter(found, 'corrected-candidate')?.value_mW, 100, 1e-6);
    const unknown = of([pen('a', steady(50, 45))], {}, (study) => ({
      ...behind(study),
      filters: [],
    }));
    expect(unknown.why).toMatch(/^No series shows the power of this source/);
  });

  test('not those that hold other light, of which the reader is told', () => {
    const input = inputOf([pen('a', steady(100, 90)), pen('b', steady(300, 270))]);
    const found = analyseOpinions({ ...input, unisolated: new Set(['b']) }).results[0];
    expect(found.series).toEqual(['a']);
    expect(found.why).toContain('the wanted line alone');
    const other = analyseOpinions({ ...input, unisolated: new Set(['x']) }).results[0];
    expect(other.why).not.toContain('the wanted line alone');
  });

  test('and not told of it where another source was told apart', () => {
    const input = inputOf([
      pen('a', steady(100, 90)),
      { id: 'b', nm: 532, laps: steady(300, 270) },
    ]);
    const found = analyseOpinions({ ...input, unisolated: new Set(['b']) }).results[0];
    expect(found.why).not.toContain('the wanted line alone');
    expect(found.series).toEqual(['a']);
  });

  test('not those behind a filter for other light', () => {
    // Of the red it passes a hundredth of what it passes of infrared: those readings are of infrared.
    const transmissions = [
      { wavelength_nm: 638, transmission: 0.009, standard_uncertainty: 0.001 },
      { wavelength_nm: 1064, transmission: 0.9, standard_uncertainty: 0.01 },
    ];
    const found = of([pen('a', steady(100, 90)), pen('b', steady(7, 6))], {}, (study) => ({
      ...study,
      filters: [{ name: 'long pass', transmissions }],
      series: study.series.map((one) => (one.id === 'b' ? { ...one, filter: 'long pass' } : one)),
    }));
    expect(found.series).toEqual(['a']);
    near(ofMeter(found, 'reference')?.value_mW, 100, 1e-9);
  });
});

describe('K of the power at which the candidate looked', () => {
  test('is that of its level', () => {
    const series = [pen('a', steady(100, 90)), { id: 'b', nm: 638, laps: steady(1100, 900) }];
    const [level] = inputOf(series).wavelengths[0].levels;
    const one = ofMeter(of(series), 'corrected-candidate');
    const K = level.factor;
    near(one?.value_mW, 90 * K, 1e-6);
    near(one?.standard_uncertainty_mW, 90 * K * level.relative_standard_uncertainty, 1e-6);
  });

  test('between two levels is less sure by what is open there, a rectangle: (between + outside) ÷ √3', () => {
    // One lap at 45 mW has no K of its own; another source shows 1.1 at 10 mW and 1.3 at 100.
    const input = inputOf([
      pen('a', [[54, 45]]),
      { id: 'low', nm: 638, laps: steady(11, 10) },
      { id: 'high', nm: 638, laps: steady(130, 100) },
    ]);
    const [{ levels, by_power }] = input.wavelengths;
    const curve = curveOfLevels({ levels, offset_mW: by_power.offset_mW }, 0.95);
    const at = factorAtPower(curve, 45);
    const open = (at?.between ?? 0) + (at?.outside ?? 0);
    expect(open).toBeGreaterThan(0.001);
    const one = ofMeter(analyseOpinions(input).results[0], 'corrected-candidate');
    near(one?.value_mW, 45 * Math.exp(at?.logFactor ?? 0), 1e-9);
    near(
      one?.standard_uncertainty_mW,
      (one?.value_mW ?? 0) * Math.hypot(at?.standardUncertainty ?? 0, open / Math.sqrt(3)),
      1e-9,
    );
  });

  test('beyond the levels is less sure by what is open out there', () => {
    const input = inputOf([pen('a', [[200, 150]]), { id: 'low', nm: 638, laps: steady(130, 100) }]);
    const [{ levels, by_power }] = input.wavelengths;
    const at = factorAtPower(curveOfLevels({ levels, offset_mW: by_power.offset_mW }, 0.95), 150);
    expect([at?.between, (at?.outside ?? 0) > 0]).toEqual([0, true]);
    const one = ofMeter(analyseOpinions(input).results[0], 'corrected-candidate');
    near(
      one?.standard_uncertainty_mW,
      (one?.value_mW ?? 0) *
        Math.hypot(at?.standardUncertainty ?? 0, (at?.outside ?? 0) / Math.sqrt(3)),
      1e-9,
    );
  });
});

test('the reader is warned where the reference is contradicted, and only there', () => {
  const far = analyseOpinions(inputOf([pen('a', steady(130, 100))])).warnings;
  expect(far.map(({ code }) => code)).toEqual(['reference-contradicted']);
  expect(far[0].message).toMatch(/^A certificate contradicts the reference at 638 nm \("pen"\)/);
  expect(analyseOpinions(inputOf([pen('a', steady(100, 60))])).warnings).toEqual([]);
});
